// What a person does to an alarm: acknowledge with one tap, reset what latched, shelve for a while with a reason,
// take it back, write a note. What the server refuses is said where it was asked; what is done while the lab does
// not answer waits on this device and is sent later.

import { useId, useState } from 'preact/hooks';
import type { AlarmView } from '../../../api/schemas.ts';
import type { Trouble } from '../../base/api.ts';
import { type MessageKey, ruleName, t } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { troubleText } from '../../live/trouble-note.tsx';
import { now, alarmAnswered } from '../../live/lab-state.ts';
import { doAct, waitingActs } from '../../live/act-queue.ts';

/** The server's limit is eight hours. */
const SHELF_HOURS = [0.5, 1, 2, 4, 8] as const;
const HOUR_MILLIS = 3_600_000;
/** Kept clear of the limit, because the request takes its time. */
const MARGIN_MILLIS = 5000;

/** As it is called among what waits to be sent. */
const ACT_NAMES = {
  acknowledge: 'alarm.acknowledge',
  reset: 'alarm.reset',
  shelve: 'alarm.shelve',
  unshelve: 'alarm.unshelve',
  'return-to-service': 'alarm.return',
  note: 'alarm.note-text',
} as const satisfies Record<string, MessageKey>;
type ActKind = keyof typeof ACT_NAMES;

const useAct = (alarm: AlarmView) => {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const doorOf = (kind: ActKind): string => `/api/alarms/${encodeURIComponent(alarm.id)}/${kind}`;
  /** Whether it was done or waits to be sent. */
  const act = async (kind: ActKind, body: object = {}, words = ''): Promise<boolean> => {
    setBusy(true);
    const name = `${alarm.stationName ?? alarm.subject}: ${ruleName(alarm.rule)} · ${t(ACT_NAMES[kind])}`;
    const what = words === '' ? name : `${name}: ${words}`;
    const answer = await doAct<AlarmView>(doorOf(kind), body, what, now.peek());
    setBusy(false);
    setRefusal(answer.ok === false ? answer.trouble : null);
    if (answer.ok === true) alarmAnswered(answer.value);
    return answer.ok !== false;
  };
  /** So that a second tap does not ask for the same again. */
  const waits = (kind: ActKind): boolean =>
    waitingActs.value.some(({ path, refusal }) => refusal === undefined && path === doorOf(kind));
  return { act, busy, refusal, waits };
};

const hoursText = (hours: number): string =>
  hours < 1 ? t('alarm.minutes', { count: hours * 60 }) : t('alarm.hours', { count: hours });

const Form = (props: {
  readonly kind: 'shelve' | 'note';
  readonly busy: boolean;
  readonly onDone: (text: string, hours: number) => void;
  readonly onCancel: () => void;
}) => {
  const id = useId();
  const [text, setText] = useState('');
  const [hours, setHours] = useState<number>(1);
  const label: MessageKey = props.kind === 'shelve' ? 'alarm.reason' : 'alarm.note-text';
  return (
    <form
      class="alarm-form"
      onSubmit={(event) => {
        event.preventDefault();
        props.onDone(text.trim(), hours);
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') props.onCancel();
      }}
    >
      <p class="field">
        <label for={`${id}-text`}>{t(label)}</label>
        <input
          id={`${id}-text`}
          value={text}
          required
          maxLength={500}
          ref={(element) => {
            if (element && text === '') element.focus();
          }}
          onInput={(event) => setText(event.currentTarget.value)}
        />
      </p>
      {props.kind === 'shelve' && (
        <p class="field">
          <label for={`${id}-hours`}>{t('alarm.shelve-for')}</label>
          <select
            id={`${id}-hours`}
            value={hours}
            onChange={(event) => setHours(Number(event.currentTarget.value))}
          >
            {SHELF_HOURS.map((one) => (
              <option key={one} value={one}>
                {hoursText(one)}
              </option>
            ))}
          </select>
        </p>
      )}
      <p class="row">
        <button type="submit" class="act" data-first="true" disabled={props.busy || text.trim() === ''}>
          {t(props.kind === 'shelve' ? 'alarm.shelve' : 'alarm.note-save')}
        </button>
        <button type="button" class="act" onClick={props.onCancel}>
          {t('form.cancel')}
        </button>
      </p>
    </form>
  );
};

export const AlarmActs = ({ alarm }: { readonly alarm: AlarmView }) => {
  const { act, busy, refusal, waits } = useAct(alarm);
  const [form, setForm] = useState<'shelve' | 'note' | null>(null);
  const shelved = alarm.stateCode === 'G';
  const over = alarm.stateCode === 'A';
  const done = async (text: string, hours: number): Promise<void> => {
    const body =
      form === 'shelve'
        ? { until: new Date(now.value + hours * HOUR_MILLIS - MARGIN_MILLIS).toISOString(), reason: text }
        : { text };
    if (form !== null && (await act(form, body, text))) setForm(null);
  };
  if (!mayDo('handle-alarms')) return null;
  if (form !== null)
    return (
      <>
        <Form
          kind={form}
          busy={busy}
          onDone={(text, hours) => void done(text, hours)}
          onCancel={() => setForm(null)}
        />
        {refusal && <p role="alert">{troubleText(refusal)}</p>}
      </>
    );
  return (
    <div class="row alarm-acts">
      {!alarm.acknowledged && !over && !shelved && (
        <button
          type="button"
          class="act"
          data-first="true"
          disabled={busy || waits('acknowledge')}
          onClick={() => void act('acknowledge', { seenCount: alarm.count })}
        >
          {t('alarm.acknowledge')}
        </button>
      )}
      {alarm.latched && alarm.acknowledged && !alarm.active && (
        <button
          type="button"
          class="act"
          data-first="true"
          disabled={busy || waits('reset')}
          onClick={() => void act('reset')}
        >
          {t('alarm.reset')}
        </button>
      )}
      {shelved && (
        <button
          type="button"
          class="act"
          disabled={busy || waits('unshelve')}
          onClick={() => void act('unshelve')}
        >
          {t('alarm.unshelve')}
        </button>
      )}
      {alarm.stateCode === 'I' && (
        <button
          type="button"
          class="act"
          disabled={busy || waits('return-to-service')}
          onClick={() => void act('return-to-service')}
        >
          {t('alarm.return')}
        </button>
      )}
      {!shelved && !over && alarm.stateCode !== 'I' && (
        <button
          type="button"
          class="act"
          disabled={busy || waits('shelve')}
          onClick={() => setForm('shelve')}
        >
          {t('alarm.shelve-open')}
        </button>
      )}
      <button type="button" class="act" disabled={busy} onClick={() => setForm('note')}>
        {t('alarm.note-open')}
      </button>
      {refusal && <p role="alert">{troubleText(refusal)}</p>}
    </div>
  );
};
