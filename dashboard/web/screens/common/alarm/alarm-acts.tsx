// What a person does to an alarm: acknowledge with one tap, reset what latched, shelve for a while with a reason,
// take it back, write a note. A refusal is shown where the act was tried; what is done while the lab does not
// answer waits on this device and is sent later.

import { useState } from 'preact/hooks';
import type { AlarmView } from '../../../../api/schemas.ts';
import { ActButton } from '../../../base/act-button.tsx';
import type { Trouble } from '../../../base/api.ts';
import { type MessageKey, ruleName, t } from '../../../base/messages.ts';
import { isSuppressed } from '../../../base/face.ts';
import { mayDo } from '../../../live/session.ts';
import { subjectName } from '../../../live/state-text.ts';
import { troubleText } from '../../../live/trouble-note.tsx';
import { now, alarmAnswered } from '../../../live/lab-state.ts';
import { doAct, waitingActs } from '../../../live/act-queue.ts';
import { refusedField } from '../../../forms/refused-field.ts';
import { AlarmForm } from './alarm-form.tsx';
import { type OfferedAct, offeredActs } from './offered-acts.ts';

const HOUR_MILLIS = 3_600_000;
/** Kept clear of the server's limit, because the request takes its time. */
const MARGIN_MILLIS = 5000;

type ActKind = OfferedAct | 'note';

/** As it is named among what waits to be sent. */
const ACT_NAMES: Readonly<Record<ActKind, MessageKey>> = {
  acknowledge: 'alarm.acknowledge',
  reset: 'alarm.reset',
  shelve: 'alarm.shelve',
  unshelve: 'alarm.unshelve',
  'return-to-service': 'alarm.return',
  note: 'alarm.note-text',
};

const useAlarmAct = (alarm: AlarmView) => {
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<Trouble | null>(null);
  const pathOf = (kind: ActKind): string => `/api/alarms/${encodeURIComponent(alarm.id)}/${kind}`;
  /** Whether it was done or waits to be sent. */
  const act = async (kind: ActKind, body: object = {}, text = ''): Promise<boolean> => {
    setBusy(true);
    const name = `${subjectName(alarm)}: ${ruleName(alarm.rule)} · ${t(ACT_NAMES[kind])}`;
    const what = text === '' ? name : `${name}: ${text}`;
    const answer = await doAct<AlarmView>(pathOf(kind), body, what, now.peek());
    setBusy(false);
    setRefusal(answer.ok === false ? answer.trouble : null);
    if (answer.ok === true) alarmAnswered(answer.value);
    return answer.ok !== false;
  };
  /** So that a second tap does not send the same again. */
  const isWaiting = (kind: ActKind): boolean =>
    waitingActs.value.some(({ path, refusal: refused }) => refused === undefined && path === pathOf(kind));
  return { act, busy, refusal, isWaiting };
};

const OFFER_NAMES: Readonly<Record<OfferedAct, MessageKey>> = { ...ACT_NAMES, shelve: 'alarm.shelve-open' };

const isFirst = (kind: OfferedAct): boolean => kind === 'acknowledge' || kind === 'reset';

export const AlarmActs = ({ alarm }: { readonly alarm: AlarmView }) => {
  const { act, busy, refusal, isWaiting } = useAlarmAct(alarm);
  const [form, setForm] = useState<'shelve' | 'note' | null>(null);
  const submit = async (text: string, hours: number): Promise<void> => {
    const body =
      form === 'shelve'
        ? { until: new Date(now.value + hours * HOUR_MILLIS - MARGIN_MILLIS).toISOString(), reason: text }
        : { text };
    if (form !== null && (await act(form, body, text))) setForm(null);
  };
  const start = (kind: OfferedAct): void => {
    if (kind === 'shelve') setForm('shelve');
    else void act(kind, kind === 'acknowledge' ? { seenCount: alarm.count } : {});
  };
  if (!mayDo('handle-alarms')) return null;
  if (form !== null)
    return (
      <>
        <AlarmForm
          kind={form}
          busy={busy}
          onDone={(text, hours) => void submit(text, hours)}
          onCancel={() => setForm(null)}
          errorAt={(path) => refusedField(refusal, path)}
        />
        {refusal && <p role="alert">{troubleText(refusal)}</p>}
      </>
    );
  return (
    <div class="row alarm-acts">
      {offeredActs(alarm).map((kind) => (
        <ActButton
          key={kind}
          text={t(OFFER_NAMES[kind])}
          isFirst={isFirst(kind) && !isSuppressed(alarm)}
          disabled={busy || isWaiting(kind)}
          onClick={() => start(kind)}
        />
      ))}
      <ActButton text={t('alarm.note-open')} disabled={busy} onClick={() => setForm('note')} />
      {refusal && <p role="alert">{troubleText(refusal)}</p>}
    </div>
  );
};
