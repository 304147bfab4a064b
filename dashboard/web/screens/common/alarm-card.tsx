// One alarm: what happened, what the heat does to the wax, what to do, the caution, and what was done about it.

import type { AlarmView } from '../../../api/schemas.ts';
import { formatInstant } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { now, reader } from '../../live/lab-state.ts';
import { isSuppressed, markOf, toneOf } from '../../base/face.ts';
import { Mark, type MarkName } from '../../base/marks.tsx';
import { mayDo } from '../../live/session.ts';
import { AlarmActs } from './alarm-acts.tsx';
import { AlarmNotices } from './alarm-notices.tsx';
import './alarms.css';

const at = (instant: string): string => formatInstant(instant, now.value, reader.value);

const markFor = (alarm: AlarmView): MarkName => {
  if (alarm.stateCode === 'G' || alarm.stateCode === 'H') return 'shelved';
  return alarm.stateCode === 'I' ? 'out-of-service' : markOf(alarm.priority);
};

const since = (alarm: AlarmView): string => {
  const begun = t(alarm.tense === 'learned' ? 'alarm.learned' : 'alarm.since', { at: at(alarm.raisedAt) });
  return alarm.clearedAt === null ? begun : `${begun} ${t('alarm.over-at', { at: at(alarm.clearedAt) })}`;
};

const History = ({ alarm }: { readonly alarm: AlarmView }) => (
  <details class="alarm-history">
    <summary>{t('alarm.history', { count: alarm.history.length })}</summary>
    <ol>
      {alarm.history.map((line) => (
        <li key={`${line.at}${line.kind}`}>
          <time dateTime={line.at}>{at(line.at)}</time> {word('change', line.kind)}
          {line.by !== null && ` · ${line.by}`}
          {line.reason !== null && ` · ${line.reason}`}
        </li>
      ))}
    </ol>
  </details>
);

interface CardProps {
  readonly alarm: AlarmView;
  readonly past?: boolean;
  /** Level below the heading that the list stands under. */
  readonly heading?: 'h2' | 'h3';
}

export const AlarmCard = ({ alarm, past = false, heading: Heading = 'h3' }: CardProps) => {
  const suppressed = isSuppressed(alarm);
  return (
    <li
      class="alarm"
      id={alarm.id}
      data-tone={past || suppressed ? 'calm' : toneOf(alarm.priority)}
      data-attention={past || suppressed ? 'calm' : alarm.acknowledged ? 'acknowledged' : 'unacknowledged'}
    >
      <header class="alarm-head">
        <Mark name={markFor(alarm)} />
        <Heading>
          {alarm.station === null ? (
            alarm.subject
          ) : (
            <a href={`/station/${encodeURIComponent(alarm.station)}`}>{alarm.stationName ?? alarm.station}</a>
          )}
          {': '}
          {ruleName(alarm.rule)}
        </Heading>
        <p class="alarm-state">
          {word('priority', alarm.priority)} · {word('state', alarm.state)}
          {alarm.shelvedUntil !== null && ` ${t('alarm.until', { at: at(alarm.shelvedUntil) })}`}
        </p>
      </header>
      <div class="alarm-body">
        <p>
          {alarm.message} <span class="dim">{since(alarm)}</span>
          {alarm.count > 1 && <span class="dim"> {t('alarm.times', { count: alarm.count })}</span>}
        </p>
        {alarm.acknowledgedAt !== null && (
          <p class="dim">
            {t('alarm.seen-by', { by: alarm.acknowledgedBy ?? '–', at: at(alarm.acknowledgedAt) })}
          </p>
        )}
        {alarm.action !== '' && !past && (
          <p>
            <strong>{t('alarm.what-to-do')}</strong> {alarm.action}
          </p>
        )}
        {alarm.caution !== '' && !past && (
          <p class="caution">
            <Mark name="fire-risk" />
            <span>{alarm.caution}</span>
          </p>
        )}
        {!past && <AlarmActs alarm={alarm} />}
        {alarm.meaning !== '' && !past && (
          <p>
            <strong>{t('alarm.what-it-means')}</strong> {alarm.meaning}
          </p>
        )}
        <History alarm={alarm} />
        {mayDo('read') && <AlarmNotices alarm={alarm.id} />}
      </div>
    </li>
  );
};
