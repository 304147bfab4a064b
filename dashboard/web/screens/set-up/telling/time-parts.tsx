// The parts of the plan that are about days and minutes: who is away, who is told next, what may wake anybody, and
// the morning's sign of life.

import { useId } from 'preact/hooks';
import { NOTIFIED_GROUPS, NOTIFIED_PRIORITIES } from '../../../../../lab/notification-plan.ts';
import { t, word } from '../../../base/messages.ts';
import { now, timeZone } from '../../../live/lab-state.ts';
import { Mark } from '../../../base/marks.tsx';
import { ChoiceEntry, NumberEntry, TextEntry } from '../../../forms/entries.tsx';
import { NOT_FILLED_IN } from './plan-draft.ts';
import type { PlanPartProps } from './plan-part.ts';
import { PlanRows } from './plan-rows.tsx';
import { nameOf } from './plan-text.ts';
import { wallClock } from './turns.ts';

const MOST_ABSENCES = 200;
const MOST_STEPS = 10;
const STEP_MINUTES = 10;
const USUAL_HEARTBEAT = '07:30';

export const AbsencesPart = ({ plan, people, onPlan, error }: PlanPartProps) => {
  const today = wallClock(now.value, timeZone.value).slice(0, 10);
  const known = people.map(({ id, name }) => [id, name] as const);
  return (
    <fieldset class="plan-part">
      <legend>{t('telling.absences')}</legend>
      <p class="dim">{t('telling.absences-hint')}</p>
      <PlanRows
        rows={plan.absences}
        onRows={(absences) => onPlan({ absences })}
        fresh={() => ({ person: people[0]?.id ?? '', from: today, to: today })}
        most={MOST_ABSENCES}
        one="telling.absence"
        remove="telling.absence-remove"
        add="telling.absence-add"
        none="telling.absence-none"
      >
        {(absence, change, at) => (
          <>
            <ChoiceEntry
              label="telling.person"
              value={absence.person}
              options={
                known.some(([id]) => id === absence.person)
                  ? known
                  : [[absence.person, nameOf(absence.person, people)], ...known]
              }
              onChange={(person) => change({ ...absence, person })}
              error={error(`absences/${at}/person`, 'telling.refused-person')}
            />
            <TextEntry
              label="telling.first-day"
              type="date"
              value={absence.from}
              onChange={(from) => change({ ...absence, from })}
              error={
                error(`absences/${at}`, 'telling.refused-span') ??
                error(`absences/${at}/from`, 'telling.refused-day')
              }
            />
            <TextEntry
              label="telling.last-day"
              type="date"
              value={absence.to}
              onChange={(to) => change({ ...absence, to })}
              error={error(`absences/${at}/to`, 'telling.refused-day')}
            />
          </>
        )}
      </PlanRows>
    </fieldset>
  );
};

export const EscalationPart = ({ plan, onPlan, error }: PlanPartProps) => (
  <fieldset class="plan-part">
    <legend>{t('telling.escalation')}</legend>
    <p class="dim">{t('telling.escalation-hint')}</p>
    {error('escalation', 'telling.refused-no-step') && (
      <p class="entry-error" role="alert">
        {t('telling.refused-no-step')}
      </p>
    )}
    <PlanRows
      rows={plan.escalation}
      onRows={(escalation) => onPlan({ escalation })}
      fresh={() => ({
        afterMinutes: Math.max(0, (plan.escalation.at(-1)?.afterMinutes ?? -STEP_MINUTES) + STEP_MINUTES),
        who: plan.escalation.length === 0 ? NOTIFIED_GROUPS[0] : NOTIFIED_GROUPS[2],
      })}
      most={MOST_STEPS}
      one="telling.step"
      remove="telling.step-remove"
      add="telling.step-add"
      none="telling.step-none"
    >
      {(step, change, at) => (
        <>
          <NumberEntry
            label="telling.step-minutes"
            min={0}
            value={step.afterMinutes === NOT_FILLED_IN ? null : step.afterMinutes}
            onChange={(minutes) => change({ ...step, afterMinutes: minutes ?? NOT_FILLED_IN })}
            error={error(`escalation/${at}/afterMinutes`, 'telling.refused-minutes')}
          />
          <ChoiceEntry
            label="telling.step-who"
            value={step.who}
            options={NOTIFIED_GROUPS.map((one) => [one, word('told-group', one)])}
            onChange={(chosen) =>
              change({ ...step, who: NOTIFIED_GROUPS.find((one) => one === chosen) ?? step.who })
            }
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
      <legend>{t('telling.outside')}</legend>
      <p class="dim">
        {t('telling.outside-hint')} <a href="/set-up/site">{t('telling.hours-link')}</a>
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
                  outsideHours: NOTIFIED_PRIORITIES.filter((one) =>
                    one === priority ? currentTarget.checked : plan.outsideHours.includes(one),
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

export const HeartbeatPart = ({ plan, people, onPlan, error }: PlanPartProps) => {
  const id = useId();
  const names = people.filter(({ morningHeartbeat }) => morningHeartbeat).map(({ name }) => name);
  return (
    <fieldset class="plan-part">
      <legend>{t('telling.heartbeat')}</legend>
      <p class="dim">
        {t('telling.heartbeat-hint')}{' '}
        {names.length === 0
          ? t('telling.heartbeat-nobody')
          : t('telling.heartbeat-who', { names: names.join(', ') })}
      </p>
      <p class="tick">
        <input
          type="checkbox"
          id={id}
          checked={plan.heartbeatAt !== null}
          onChange={({ currentTarget }) =>
            onPlan({ heartbeatAt: currentTarget.checked ? USUAL_HEARTBEAT : null })
          }
        />
        <label for={id}>{t('telling.heartbeat-on')}</label>
      </p>
      {plan.heartbeatAt !== null && (
        <TextEntry
          label="telling.heartbeat-at"
          type="time"
          value={plan.heartbeatAt}
          onChange={(heartbeatAt) => onPlan({ heartbeatAt })}
          error={error('heartbeatAt', 'telling.refused-time')}
        />
      )}
    </fieldset>
  );
};
