// One alarm: what happened, what the heat does to the wax, what to do, the caution, and what was done about it.

import type { AlarmView } from '../../../api/schemas.ts';
import { formatInstant, formatTemperature } from '../../base/format.ts';
import { ruleName, t, word } from '../../base/messages.ts';
import { directionOf } from '../../live/direction.ts';
import { isLive, now, reader, stations } from '../../live/lab-state.ts';
import { pastText, stateText } from '../../live/state-text.ts';
import { isPast, isSuppressed, markOf, stationFace, toneOf } from '../../base/face.ts';
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

/** The reading that the alarm is about, as it is at this moment, and where it goes. */
const ReadingNow = ({ alarm }: { readonly alarm: AlarmView }) => {
  const station = stations.value.find((each) => each.peek().id === alarm.station)?.value;
  if (station === undefined || alarm.subjectKind !== 'station') return null;
  const direction = directionOf(station);
  return (
    <p class="alarm-now">
      <strong>
        {isLive(station) && station.celsius !== null
          ? formatTemperature(station.celsius, reader.value)
          : stateText(station, stationFace(station, [], false))}
      </strong>
      {direction !== null && <span>{t(direction === 'up' ? 'wall.rising' : 'wall.falling')}</span>}
    </p>
  );
};

interface CardProps {
  readonly alarm: AlarmView;
  readonly past?: boolean;
  /** Level below the heading that the list stands under. */
  readonly heading?: 'h2' | 'h3';
}

export const AlarmCard = ({ alarm, past = false, heading: Heading = 'h3' }: CardProps) => {
  const suppressed = isSuppressed(alarm);
  const isOver = isPast(alarm);
  const isCalm = past || suppressed || isOver;
  return (
    <li
      class="alarm"
      id={alarm.id}
      data-tone={isCalm ? 'calm' : toneOf(alarm.priority)}
      data-attention={isCalm ? 'calm' : alarm.acknowledged ? 'acknowledged' : 'unacknowledged'}
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
        {!isOver && !past && <ReadingNow alarm={alarm} />}
        <p>
          {isOver && !past ? (
            pastText(alarm)
          ) : (
            <>
              {alarm.message} <span class="dim">{since(alarm)}</span>
            </>
          )}
          {alarm.count > 1 && <span class="dim"> {t('alarm.times', { count: alarm.count })}</span>}
        </p>
        {alarm.acknowledgedAt !== null && (
          <p class="dim">
            {t('alarm.seen-by', { by: alarm.acknowledgedBy ?? '–', at: at(alarm.acknowledgedAt) })}
          </p>
        )}
        {alarm.action !== '' && !past && !isOver && (
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
