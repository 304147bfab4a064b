// What people mean a station to do for a while: entered with one tap, with when it ends, and taken back with another.

import { ClockInput } from '../../../forms/written-time-inputs.tsx';
import { useId, useState } from 'preact/hooks';
import { type IntentKind, needsTime } from '../../../../../lab/intent-kind.ts';
import type { IntentView, StationView } from '../../../../api/schemas.ts';
import { ActAnswer } from '../../../forms/act-answer.tsx';
import { useAct } from '../../../forms/use-act.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { t, word } from '../../../base/messages.ts';
import { now, reader } from '../../../live/lab-state.ts';
import { mayDo } from '../../../live/session.ts';
import { intentsNow, intentText } from '../../../live/state-text.ts';
import { clockAt, laterHour, nextInstantOf } from './clock-instant.ts';
import { offeredIntents } from './offered-intents.ts';
import './intents.css';
import { submitWith } from '../../../forms/submit-with.ts';
import { instantText } from '../../../live/instant-text.ts';

/** Proposed for a preheat: before most labs open. */
const PREHEAT_CLOCK = '06:30';

const nameOf = (kind: IntentKind): string => word('intent', kind);

interface TimeFormProps {
  readonly kind: IntentKind;
  readonly busy: boolean;
  /** Epoch milliseconds. */
  readonly onTime: (until: number) => void;
  readonly onCancel: () => void;
}

const TimeForm = ({ kind, busy, onTime, onCancel }: TimeFormProps) => {
  const id = useId();
  const { timeZone } = reader.value;
  const [clock, setClock] = useState(() =>
    kind === 'preheat-at' ? PREHEAT_CLOCK : clockAt(laterHour(now.peek()), timeZone),
  );
  const until = nextInstantOf(clock, now.value, timeZone);
  return (
    <form
      class="work-form intent-time"
      onSubmit={submitWith(() => {
        if (until !== null) onTime(until);
      })}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onCancel();
      }}
    >
      <p class="field">
        <label for={id}>
          {nameOf(kind)}: {t('work.intent-time')}
        </label>
        <ClockInput id={id} required value={clock} onChange={setClock} />
        <span class="dim" role="status">
          {until !== null && t('work.intent-time-means', { at: instantText(until) })}
        </span>
      </p>
      <p class="row">
        <ActButton text={nameOf(kind)} isFirst disabled={busy || until === null} />
        <ActButton text={t('form.cancel')} onClick={onCancel} />
      </p>
    </form>
  );
};

const Ended = ({ intents }: { readonly intents: readonly IntentView[] }) => (
  <ul class="intents-ended" role="status">
    {intents.map(({ kind, until, by }) => (
      <li key={kind}>
        {t('work.intent-ended', {
          intent: t('work.intent-by', { intent: nameOf(kind), by }),
          at: instantText(until),
        })}{' '}
        {t('work.intent-again')}
      </li>
    ))}
  </ul>
);

interface ListProps {
  readonly intents: readonly IntentView[];
  readonly busy: boolean;
  /** Absent for who may only look. */
  readonly onBack?: (kind: IntentKind) => void;
}

const IntentList = ({ intents, busy, onBack }: ListProps) => (
  <ul class="intent-list">
    {intents.map((intent) => (
      <li key={intent.kind}>
        <span>
          <strong>{intentText(intent)}</strong> <span class="dim">{intent.by}</span>
        </span>
        {onBack && (
          <ActButton
            text={
              intent.kind === 'probe-out'
                ? t('work.intent-probe-back')
                : t('work.intent-back', { intent: nameOf(intent.kind) })
            }
            disabled={busy}
            onClick={() => onBack(intent.kind)}
          />
        )}
      </li>
    ))}
  </ul>
);

export const Intents = ({ station }: { readonly station: StationView }) => {
  const { act, busy, refusal, isKept } = useAct();
  const [asked, setAsked] = useState<IntentKind | null>(null);
  const active = intentsNow(station);
  const isActive = (kind: IntentKind): boolean => active.some((intent) => intent.kind === kind);
  const ended = station.endedIntents.filter(({ kind }) => !isActive(kind));
  const mayAct = mayDo('tend-stations');
  if (!mayAct && active.length === 0 && ended.length === 0) return null;
  const path = `/api/stations/${encodeURIComponent(station.id)}/intents`;
  const say = async (kind: IntentKind, until?: number): Promise<void> => {
    const body = { kind, ...(until !== undefined && { until: new Date(until).toISOString() }) };
    setAsked(null);
    await act(path, body, `${station.name}: ${nameOf(kind)}`);
  };
  const takeBack = (kind: IntentKind): void => {
    void act(`${path}/${kind}`, null, `${station.name}: ${t('work.intent-back', { intent: nameOf(kind) })}`);
  };
  return (
    <section class="intents no-print" aria-labelledby="intents">
      <h2 id="intents">{t('work.intents')}</h2>
      {active.length > 0 && <IntentList intents={active} busy={busy} {...(mayAct && { onBack: takeBack })} />}
      {ended.length > 0 && <Ended intents={ended} />}
      {mayAct &&
        (asked === null ? (
          <div class="intent-offers">
            {offeredIntents(station.kind)
              .filter((kind) => !isActive(kind))
              .map((kind) => (
                <button
                  key={kind}
                  type="button"
                  class="act"
                  disabled={busy}
                  onClick={() => (needsTime(kind) ? setAsked(kind) : void say(kind))}
                >
                  {nameOf(kind)}
                  {needsTime(kind) && '…'}
                </button>
              ))}
          </div>
        ) : (
          <TimeForm
            key={asked}
            kind={asked}
            busy={busy}
            onTime={(until) => void say(asked, until)}
            onCancel={() => setAsked(null)}
          />
        ))}
      <ActAnswer refusal={refusal} isKept={isKept} />
      <p class="dim">{t('work.intent-explain')}</p>
    </section>
  );
};
