// The parts of the plan that are about days and minutes: who is away, who is notified next, what may wake anybody, and
// the morning's sign of life.

import { useId } from 'preact/hooks';
import { NOTIFIED_GROUPS, NOTIFIED_PRIORITIES } from '../../../../../lab/notification-plan.ts';
import { t, word } from '../../../base/messages.ts';
import { now, timeZone } from '../../../live/lab-state.ts';
import { Mark } from '../../../base/marks.tsx';
import { ChoiceEntry, TickEntry } from '../../../forms/entries.tsx';
import { fieldAt } from '../../../forms/field-at.ts';
import { ChoiceField, NumberField, TextField } from '../../../forms/schema-fields.tsx';
import { NOT_FILLED_IN } from './plan-draft.ts';
import { type PlanPartProps, rowFields } from './plan-part.ts';
import { PlanRows } from './plan-rows.tsx';
import { nameOf } from './plan-text.ts';
import { wallClock } from './turns.ts';

const STEP_MINUTES = 10;
const USUAL_HEARTBEAT = '07:30';

export const AbsencesPart = ({ form, plan, people, onPlan, error }: PlanPartProps) => {
  const today = wallClock(now.value, timeZone.value).slice(0, 10);
  const choices = people.map(({ id, name }) => [id, name] as const);
  return (
    <fieldset class="plan-part">
      <legend>{t('notification-plan.absences')}</legend>
      <p class="dim">{t('notification-plan.absences-hint')}</p>
      <PlanRows
        rows={plan.absences}
        onRows={(absences) => onPlan({ absences })}
        fresh={() => ({ person: people[0]?.id ?? '', from: today, to: today })}
        most={fieldAt(form.fields, 'absences').maxItems}
        rowName="notification-plan.absence"
        remove="notification-plan.absence-remove"
        add="notification-plan.absence-add"
        none="notification-plan.absence-none"
      >
        {(absence, change, at) => {
          const field = rowFields({ form, error }, `absences/${at}`, absence, change);
          const from = field('from', 'notification-plan.refused-day');
          return (
            <>
              <ChoiceEntry
                {...field('person', 'notification-plan.refused-person')}
                label="notification-plan.person"
                options={
                  choices.some(([id]) => id === absence.person)
                    ? choices
                    : [[absence.person, nameOf(absence.person, people)], ...choices]
                }
              />
              <TextField
                {...from}
                label="notification-plan.first-day"
                type="date"
                error={error(`absences/${at}`, 'notification-plan.refused-span') ?? from.error}
              />
              <TextField
                {...field('to', 'notification-plan.refused-day')}
                label="notification-plan.last-day"
                type="date"
              />
            </>
          );
        }}
      </PlanRows>
    </fieldset>
  );
};

export const EscalationPart = ({ form, plan, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('notification-plan.escalation')}</legend>
    <p class="dim">{t('notification-plan.escalation-hint')}</p>
    {error('escalation', 'notification-plan.refused-no-step') && (
      <p class="entry-error" role="alert">
        {t('notification-plan.refused-no-step')}
      </p>
    )}
    <PlanRows
      rows={plan.escalation}
      onRows={(escalation) => onPlan({ escalation })}
      fresh={() => ({
        afterMinutes: Math.max(0, (plan.escalation.at(-1)?.afterMinutes ?? -STEP_MINUTES) + STEP_MINUTES),
        who: plan.escalation.length === 0 ? NOTIFIED_GROUPS[0] : NOTIFIED_GROUPS[2],
      })}
      most={fieldAt(form.fields, 'escalation').maxItems}
      rowName="notification-plan.step"
      remove="notification-plan.step-remove"
      add="notification-plan.step-add"
      none="notification-plan.step-none"
    >
      {(step, change, at) => (
        <>
          <NumberField
            form={form}
            at={`escalation/${at}/afterMinutes`}
            label="notification-plan.step-minutes"
            value={step.afterMinutes === NOT_FILLED_IN ? null : step.afterMinutes}
            onChange={(minutes) => change({ ...step, afterMinutes: minutes ?? NOT_FILLED_IN })}
            error={error(`escalation/${at}/afterMinutes`, 'notification-plan.refused-minutes')}
          />
          <ChoiceField
            form={form}
            at={`escalation/${at}/who`}
            label="notification-plan.step-who"
            words="notified-group"
            value={step.who}
            onChange={(who) => change({ ...step, who })}
          />
        </>
      )}
    </PlanRows>
  </fieldset>
);

export const OutsideHoursPart = ({ plan, onPlan }: PlanPartProps) => {
  const id = useId();
  return (
    <fieldset class="plan-part">
      <legend>{t('notification-plan.outside')}</legend>
      <p class="dim">
        {t('notification-plan.outside-hint')} <a href="/set-up/site">{t('notification-plan.hours-link')}</a>
      </p>
      <div class="outside-hours">
        {NOTIFIED_PRIORITIES.map((priority) => (
          <p key={priority} class="tick">
            <input
              type="checkbox"
              id={`${id}-${priority}`}
              checked={plan.outsideHours.includes(priority)}
              onChange={({ currentTarget }) =>
                onPlan({
                  outsideHours: NOTIFIED_PRIORITIES.filter((each) =>
                    each === priority ? currentTarget.checked : plan.outsideHours.includes(each),
                  ),
                })
              }
            />
            <label for={`${id}-${priority}`} class="priority-word">
              <Mark name={priority} />
              {word('priority', priority)}
            </label>
          </p>
        ))}
      </div>
    </fieldset>
  );
};

export const HeartbeatPart = ({ form, plan, people, onPlan, error }: PlanPartProps) => {
  const names = people.filter(({ morningHeartbeat }) => morningHeartbeat).map(({ name }) => name);
  return (
    <fieldset class="plan-part">
      <legend>{t('notification-plan.heartbeat')}</legend>
      <p class="dim">
        {t('notification-plan.heartbeat-hint')}{' '}
        {names.length === 0
          ? t('notification-plan.heartbeat-nobody')
          : t('notification-plan.heartbeat-who', { names: names.join(', ') })}
      </p>
      <TickEntry
        label="notification-plan.heartbeat-on"
        checked={plan.heartbeatAt !== null}
        onChange={(isOn) => onPlan({ heartbeatAt: isOn ? USUAL_HEARTBEAT : null })}
      />
      {plan.heartbeatAt !== null && (
        <TextField
          form={form}
          at="heartbeatAt"
          label="notification-plan.heartbeat-at"
          type="time"
          value={plan.heartbeatAt}
          onChange={(heartbeatAt) => onPlan({ heartbeatAt })}
          error={error('heartbeatAt', 'notification-plan.refused-time')}
        />
      )}
    </fieldset>
  );
};
