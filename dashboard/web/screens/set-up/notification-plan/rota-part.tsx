// Who has the duty in which week: everybody, or weekly turns in an order, with the coming turns to be seen at once.

import { useId } from 'preact/hooks';
import type { NotificationPlanBody } from '../../../../api/notification-plan.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { type MessageKey, t } from '../../../base/messages.ts';
import { now, timeZone } from '../../../live/lab-state.ts';
import { ChoiceEntry } from '../../../forms/entries.tsx';
import { fieldsOf, TextField } from '../../../forms/schema-fields.tsx';
import type { PlanPartProps } from './plan-part.ts';
import { clockText, dayText, nameOf, type People } from './plan-text.ts';
import { turnsFrom, wallClock } from './turns.ts';

type Rota = NonNullable<NotificationPlanBody['rota']>;
const TURNS_SHOWN = 4;
const USUAL_HANDOVER = '08:00';

const movePerson = <T,>(list: readonly T[], from: number, to: number): T[] => {
  const next = [...list];
  next.splice(to, 0, ...next.splice(from, 1));
  return next;
};

const Order = (props: {
  readonly rota: Rota;
  readonly people: People;
  readonly error: (at: number) => string | null;
  readonly onOrder: (people: string[]) => void;
}) => {
  const { rota, people, onOrder } = props;
  return (
    <ol class="rota-order">
      {rota.people.map((id, at) => {
        const name = nameOf(id, people);
        const refused = props.error(at);
        const step = (by: 1 | -1, label: MessageKey, sign: string) => (
          <button
            type="button"
            class="act"
            aria-label={t(label, { name })}
            disabled={rota.people[at + by] === undefined}
            onClick={() => onOrder(movePerson(rota.people, at, at + by))}
          >
            <span aria-hidden="true">{sign}</span>
          </button>
        );
        return (
          <li key={id}>
            <span class="rota-place dim">{at + 1}</span>
            <span class="rota-name">
              {name}
              {refused && (
                <span class="entry-error" role="alert">
                  {refused}
                </span>
              )}
            </span>
            <span class="row rota-moves">
              {step(-1, 'notification-plan.earlier-of', '↑')}
              {step(1, 'notification-plan.later-of', '↓')}
              <ActButton
                text={t('set-up.remove')}
                label={t('set-up.remove-of', { name })}
                onClick={() => onOrder(rota.people.filter((_, index) => index !== at))}
              />
            </span>
          </li>
        );
      })}
    </ol>
  );
};

const ComingTurns = (props: {
  readonly rota: Rota;
  readonly plan: NotificationPlanBody;
  readonly people: People;
}) => {
  const { rota, plan, people } = props;
  const turns = turnsFrom(rota, plan.absences, wallClock(now.value, timeZone.value), TURNS_SHOWN);
  if (turns.length === 0) return null;
  return (
    <div class="rota-turns">
      <h3>{t('notification-plan.turns')}</h3>
      <ol>
        {turns.map(({ person, startsOn, absence }) => (
          <li key={startsOn}>
            <span class="dim">{`${dayText(startsOn)}, ${clockText(rota.handoverTime)}`}</span>
            <span>
              <strong>{nameOf(person, people)}</strong>
              {absence && (
                <span class="dim turn-note">
                  {t('notification-plan.stands-in', { from: dayText(absence.from), to: dayText(absence.to) })}
                </span>
              )}
            </span>
          </li>
        ))}
      </ol>
    </div>
  );
};

const Turns = ({ form, plan, people, onPlan, error, rota }: PlanPartProps & { readonly rota: Rota }) => {
  const change = (part: Partial<Rota>): void => onPlan({ rota: { ...rota, ...part } });
  const field = fieldsOf(form, rota, change);
  const addable = people.filter(({ id, role }) => role !== 'viewer' && !rota.people.includes(id));
  return (
    <>
      <Order
        rota={rota}
        people={people}
        error={(at) => error(`rota/people/${at}`, 'notification-plan.refused-person')}
        onOrder={(order) => change({ people: order })}
      />
      {(addable.length > 0 || rota.people.length === 0) && (
        <ChoiceEntry
          label="notification-plan.rota-add"
          value=""
          options={[
            ['', t('notification-plan.rota-choose')],
            ...addable.map(({ id, name }) => [id, name] as const),
          ]}
          onChange={(chosen) => {
            if (chosen !== '') change({ people: [...rota.people, chosen] });
          }}
          error={error('rota/people', 'notification-plan.refused-rota')}
        />
      )}
      <div class="pair">
        <TextField
          {...field('startsOn', 'rota/startsOn')}
          label="notification-plan.rota-starts"
          hint={t('notification-plan.rota-starts-hint')}
          type="date"
          error={error('rota/startsOn', 'notification-plan.refused-day')}
        />
        <TextField
          {...field('handoverTime', 'rota/handoverTime')}
          label="notification-plan.rota-handover"
          type="time"
          error={error('rota/handoverTime', 'notification-plan.refused-time')}
        />
      </div>
      <ComingTurns rota={rota} plan={plan} people={people} />
    </>
  );
};

/** What a rota begins with: nobody yet, from today on. */
const newRota = (): Rota => ({
  people: [],
  startsOn: wallClock(now.value, timeZone.value).slice(0, 10),
  handoverTime: USUAL_HANDOVER,
});

export const RotaPart = (props: PlanPartProps) => {
  const id = useId();
  const { onPlan } = props;
  const { rota } = props.plan;
  return (
    <fieldset class="plan-part">
      <legend>{t('notification-plan.rota')}</legend>
      {(['everybody', 'turns'] as const).map((way) => (
        <p key={way} class="tick">
          <input
            type="radio"
            id={`${id}-${way}`}
            name={`${id}-rota`}
            checked={(rota !== null) === (way === 'turns')}
            onChange={() => onPlan({ rota: way === 'turns' ? newRota() : null })}
          />
          <label for={`${id}-${way}`}>
            {t(way === 'turns' ? 'notification-plan.rota-turns' : 'notification-plan.rota-everybody')}
          </label>
        </p>
      ))}
      {rota !== null && <Turns {...props} rota={rota} />}
    </fieldset>
  );
};
