// The outbox: what was sent to whom over which channel, what became of it, and what to do where it did not arrive. No
// text of a notice is here, so that no case is named.

import { useEffect, useState } from 'preact/hooks';
import type { Static } from 'typebox';
import type { Channel } from '../../../../../alerts/notices/outbox/outbox-row.ts';
import { OUTBOX_STATES, type OutboxState } from '../../../../../alerts/notices/outbox/outbox-row.ts';
import type { OutboxView } from '../../../../api/outbox.ts';
import { ActButton } from '../../../base/act-button.tsx';
import { DataTable } from '../../../base/data-table.tsx';
import { formatDay, formatTime } from '../../../base/format.ts';
import { type MessageKey, ruleName, t, word } from '../../../base/messages.ts';
import { alarms, now, reader } from '../../../live/lab-state.ts';
import { useLoaded } from '../../../live/use-loaded.ts';
import { Refusal } from '../../../forms/saving.tsx';
import { SetUpPage } from '../../../forms/set-up-page.tsx';
import { SendAnswer } from '../../common/alarm/send-answer.tsx';
import { StateMark } from './state-mark.tsx';
import './deliveries.css';
import { ActLink } from '../../../base/act-link.tsx';
import { stationOf } from '../../../live/lab-stations.ts';
import { instantText } from '../../../live/instant-text.ts';

type View = Static<typeof OutboxView>;
type Row = View['rows'][number];

const PAGE = 100;
const MOST = 500;
const REFRESH_MILLIS = 10_000;

const WHAT_TO_DO: Readonly<Record<Channel, MessageKey>> = {
  push: 'outbox.do-push',
  mail: 'outbox.do-mail',
  webhook: 'outbox.do-webhook',
  lamp: 'outbox.do-lamp',
  mqtt: 'outbox.do-mqtt',
};

/** Rule and station of an alarm, by its id; never the text of the alarm. */
const aboutText = (alarm: string | null): string => {
  const [, subject = '', rule = ''] = /^(.+)\.([a-z-]+)\.\d+$/.exec(alarm ?? '') ?? [];
  const station = stationOf(subject)?.name;
  return rule === '' ? '' : `· ${ruleName(rule)}${station === undefined ? '' : `, ${station}`}`;
};

const Answer = ({ row }: { readonly row: Row }) => {
  const needsHands = row.state === 'failed' || row.state === 'expired';
  const isStuck = row.state === 'waiting' && row.attempts > 0;
  return (
    <>
      {row.answer === null ? '–' : <SendAnswer answer={row.answer} />}
      {row.isRepeat && <span class="dim outbox-line">{t('outbox.repeat')}</span>}
      {(needsHands || isStuck) && <span class="outbox-line">{t(WHAT_TO_DO[row.channel])}</span>}
    </>
  );
};

const triesText = (row: Row): string =>
  row.nextAt === null || row.attempts === 0
    ? String(row.attempts)
    : t('outbox.tries-next', { count: row.attempts, at: formatTime(row.nextAt, reader.value, true) });

const Rows = ({ rows }: { readonly rows: readonly Row[] }) => (
  <DataTable
    rows={rows}
    keyOf={(row) => String(row.number)}
    columns={{
      [t('outbox.state')]: (row) => <StateMark state={row.state} />,
      [t('audit.when')]: (row) =>
        `${formatDay(row.at, reader.value)}, ${formatTime(row.at, reader.value, true)}`,
      [t('outbox.to')]: (row) => (
        <>
          {row.to} <span class="dim">{`· ${word('outbox-channel', row.channel)}`}</span>
        </>
      ),
      [t('outbox.what')]: (row) => (
        <>
          {word('outbox-kind', row.kind)} <span class="dim">{aboutText(row.alarm)}</span>
        </>
      ),
      [t('outbox.tries')]: triesText,
      [t('outbox.answer')]: (row) => <Answer row={row} />,
    }}
  />
);

const StateFilter = (props: {
  readonly counts: View['counts'];
  readonly state: OutboxState | '';
  readonly onState: (state: OutboxState | '') => void;
}) => {
  const total = Object.values(props.counts).reduce((sum, count) => sum + count, 0);
  return (
    <fieldset class="outbox-filter">
      <legend>{t('outbox.filter')}</legend>
      {(['', ...OUTBOX_STATES] as const).map((state) => (
        <button
          key={state}
          type="button"
          class="act"
          aria-pressed={props.state === state}
          onClick={() => props.onState(state)}
        >
          {state === '' ? t('outbox.every') : <StateMark state={state} isCalm={!props.counts[state]} />}
          <span class="dim">{state === '' ? total : (props.counts[state] ?? 0)}</span>
        </button>
      ))}
    </fieldset>
  );
};

export default function Post() {
  const [state, setState] = useState<OutboxState | ''>('');
  const [limit, setLimit] = useState(PAGE);
  const filter = state === '' ? '' : `&state=${state}`;
  const outbox = useLoaded<View>(`/api/outbox?limit=${limit}${filter}`, { everyMillis: REFRESH_MILLIS });
  const [seenAt, setSeenAt] = useState(now.value);
  const moved = alarms.value;
  useEffect(outbox.reload, [moved]);
  useEffect(() => setSeenAt(now.peek()), [outbox.value]);
  const rows = outbox.value?.rows.filter((row) => state === '' || row.state === state) ?? [];
  return (
    <SetUpPage heading="outbox.title" explain="outbox.explain" needs="read">
      {outbox.value && <StateFilter counts={outbox.value.counts} state={state} onState={setState} />}
      {state !== '' && <p>{word('outbox-state-means', state)}</p>}
      <p class="row">
        <ActButton text={t('outbox.refresh')} disabled={outbox.busy} onClick={outbox.reload} />
        <span class="dim">{t('outbox.as-of', { at: instantText(seenAt) })}</span>
      </p>
      <Refusal trouble={outbox.trouble} retry={outbox.reload} />
      {outbox.value && rows.length === 0 && (
        <p class="card">{t(state === '' ? 'outbox.empty' : 'outbox.empty-state')}</p>
      )}
      {rows.length > 0 && <Rows rows={rows} />}
      {rows.length >= limit && limit < MOST && (
        <p>
          <ActButton text={t('outbox.more')} onClick={() => setLimit(MOST)} />
        </p>
      )}
      {rows.length >= MOST && <p class="dim">{t('outbox.most', { count: MOST })}</p>}
      <p class="row">
        <ActLink href="/set-up/notification-plan" text="notification-plan.title" />
        <ActLink href="/phone" text="notification-plan.test-phone" />
      </p>
    </SetUpPage>
  );
}
