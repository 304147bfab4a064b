// One alarm: what happened, what the heat does to the wax, what to do, the caution, and what was done about it.

import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import type { PatternView } from '../../../../api/patterns.ts';
import type { AlarmView } from '../../../../api/schemas.ts';
import { formatTemperature, instantFormat } from '../../../base/format.ts';
import { ruleName, t, word } from '../../../base/messages.ts';
import { directionOf } from '../../../live/direction.ts';
import { isLive, line, now, reader } from '../../../live/lab-state.ts';
import { useLoaded } from '../../../live/use-loaded.ts';
import { pastText, stateNote, stateText, subjectName } from '../../../live/state-text.ts';
import { isPast, isSuppressed, markOf, stationFace, toneOf } from '../../../base/face.ts';
import { Mark, type MarkName } from '../../../base/marks.tsx';
import { mayDo } from '../../../live/session.ts';
import { AlarmActs } from './alarm-acts.tsx';
import { AlarmNotices } from './alarm-notices.tsx';
import { PastExtremes } from './past-extremes.tsx';
import { nameOfPattern } from '../bench/patterns-due.ts';
import './alarms.css';
import { stationOf } from '../../../live/lab-stations.ts';

type WriteInstant = (at: string) => string;

/** One way to write every time that the card shows. */
const clockOf = ({ raisedAt, clearedAt, acknowledgedAt, shelvedUntil, history }: AlarmView): WriteInstant =>
  instantFormat(
    [raisedAt, clearedAt, acknowledgedAt, shelvedUntil, ...history.map(({ at }) => at)].flatMap((at) =>
      at === null ? [] : [at],
    ),
    now.value,
    reader.value,
  );

const markFor = (alarm: AlarmView): MarkName => {
  if (alarm.stateCode === 'G' || alarm.stateCode === 'H') return 'shelved';
  return alarm.stateCode === 'I' ? 'out-of-service' : markOf(alarm.priority);
};

const sinceText = ({ tense, raisedAt, clearedAt }: AlarmView, at: WriteInstant): string => {
  if (clearedAt === null)
    return t(tense === 'learned' ? 'alarm.learned' : 'alarm.since', { at: at(raisedAt) });
  const span = { from: at(raisedAt), to: at(clearedAt) };
  return t(tense === 'learned' ? 'alarm.learned-span' : 'alarm.span', span);
};

/** Of one that is over and takes a line only, its course is read once this is opened. */
const History = (props: { readonly alarm: AlarmView; readonly past: boolean; readonly at: WriteInstant }) => {
  const { alarm, past, at } = props;
  const [isOpen, setOpen] = useState(false);
  return (
    <details class="alarm-history" onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{t('alarm.history', { count: alarm.history.length })}</summary>
      {past && isOpen && <PastExtremes alarm={alarm} at={at} />}
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
};

/** The reading that the alarm is about, as it is at this moment, and where it goes; of one that is silent, what it was. */
const ReadingNow = ({ alarm }: { readonly alarm: AlarmView }) => {
  const station = stationOf(alarm.station);
  if (station === undefined || alarm.subjectKind !== 'station') return null;
  if (!isLive(station) || station.celsius === null) {
    const face = stationFace(station, [], false);
    return (
      <p class="alarm-now">
        <strong>{stateText(station, face)}</strong>
        <span>{stateNote(station, face)}</span>
      </p>
    );
  }
  const direction = directionOf(station);
  const reading = formatTemperature(station.celsius, reader.value);
  return (
    <p class="alarm-now">
      <strong>{line.value === 'down' ? t('wall.was-state', { state: reading }) : reading}</strong>
      {direction !== null && <span>{t(direction === 'up' ? 'wall.rising' : 'wall.falling')}</span>}
    </p>
  );
};

export const Caution = ({ text }: { readonly text: string }) =>
  text === '' ? null : (
    <p class="caution">
      <Mark name="fire-risk" />
      <span>{text}</span>
    </p>
  );

/** What the alarm means, what was done about it and who was notified, each behind its name. */
const More = ({
  alarm,
  past,
  at,
  caution,
}: {
  readonly alarm: AlarmView;
  readonly past: boolean;
  readonly at: WriteInstant;
  /** Empty: it is shown in full elsewhere. */
  readonly caution: string;
}) => (
  <div class="alarm-more">
    {caution !== '' && (
      <details class="alarm-history">
        <summary>{t('alarm.caution')}</summary>
        <Caution text={caution} />
      </details>
    )}
    {alarm.meaning !== '' && !past && (
      <details class="alarm-history">
        <summary>{t('alarm.what-it-means')}</summary>
        <p>{alarm.meaning}</p>
      </details>
    )}
    <History alarm={alarm} past={past} at={at} />
    {mayDo('read') && <AlarmNotices alarm={alarm.id} />}
  </div>
);

/** By its case, once that is loaded. */
const PatternName = ({ id }: { readonly id: string }) => {
  const { value } = useLoaded<PatternView>(`/api/patterns/${encodeURIComponent(id)}`);
  return <>{value === null ? id : nameOfPattern(value)}</>;
};

/** Where it is: a pattern is known to people by its case, everything else by its station. */
const Subject = ({ alarm }: { readonly alarm: AlarmView }) => {
  if (alarm.subjectKind === 'pattern')
    return (
      <a href={`/p/${encodeURIComponent(alarm.subject)}`}>
        <PatternName id={alarm.subject} />
      </a>
    );
  if (alarm.station === null) return <>{subjectName(alarm)}</>;
  return <a href={`/station/${encodeURIComponent(alarm.station)}`}>{subjectName(alarm)}</a>;
};

const Head = ({
  alarm,
  at,
  level: Level,
  isAtItsStation,
}: {
  readonly alarm: AlarmView;
  readonly at: WriteInstant;
  readonly level: 'h2' | 'h3';
  readonly isAtItsStation: boolean;
}) => (
  <header class="alarm-head">
    <Mark name={markFor(alarm)} />
    <Level>
      {isAtItsStation && alarm.subjectKind === 'station' ? null : (
        <>
          <Subject alarm={alarm} />
          {': '}
        </>
      )}
      {ruleName(alarm.rule)}
    </Level>
    <p class="alarm-state">
      {word('priority', alarm.priority)} · {word('state', alarm.state)}
      {alarm.shelvedUntil !== null && ` ${t('alarm.until', { at: at(alarm.shelvedUntil) })}`}
    </p>
  </header>
);

const WhatToDo = ({ alarm }: { readonly alarm: AlarmView }) =>
  alarm.action === '' ? null : (
    <p class="alarm-action">
      <strong>{t('alarm.what-to-do')}</strong> {alarm.action}
    </p>
  );

interface CardProps {
  readonly alarm: AlarmView;
  /** Level below the heading that the list is under. */
  readonly heading?: 'h2' | 'h3';
  /** On the page of its station the reading is shown above, once. */
  readonly isAtItsStation?: boolean;
  /** A card above has the same caution in full. */
  readonly hasCautionAbove?: boolean;
}

export const AlarmCard = ({
  alarm,
  heading = 'h3',
  isAtItsStation = false,
  hasCautionAbove = false,
}: CardProps) => {
  const isOver = isPast(alarm);
  const isCalm = isSuppressed(alarm) || isOver;
  // What a worse alarm of the same place suppresses adds nothing to the worse one.
  const isHidden = alarm.stateCode === 'H';
  const caution = isHidden ? '' : alarm.caution;
  const at = clockOf(alarm);
  return (
    <li
      class="alarm"
      id={alarm.id}
      data-tone={isCalm ? 'calm' : toneOf(alarm.priority)}
      data-attention={isCalm ? 'calm' : alarm.acknowledged ? 'acknowledged' : 'unacknowledged'}
    >
      <Head alarm={alarm} at={at} level={heading} isAtItsStation={isAtItsStation} />
      <div class="alarm-body">
        {!isOver && !isHidden && !isAtItsStation && <ReadingNow alarm={alarm} />}
        {!isOver && <WhatToDo alarm={alarm} />}
        <p>
          {isOver ? (
            pastText(alarm)
          ) : (
            <>
              {alarm.message} <span class="dim">{sinceText(alarm, at)}</span>
            </>
          )}
          {alarm.count > 1 && <span class="dim"> {t('alarm.times', { count: alarm.count })}</span>}
        </p>
        {isOver && <PastExtremes alarm={alarm} at={at} />}
        {alarm.acknowledgedAt !== null && (
          <p class="dim">
            {t('alarm.seen-by', { by: alarm.acknowledgedBy ?? '–', at: at(alarm.acknowledgedAt) })}
          </p>
        )}
        {!hasCautionAbove && <Caution text={caution} />}
        <AlarmActs alarm={alarm} />
        <More alarm={alarm} past={false} at={at} caution={hasCautionAbove ? caution : ''} />
      </div>
    </li>
  );
};

interface PastProps {
  readonly alarm: AlarmView;
  /** A box to tick, in a list of which several are chosen. */
  readonly tick?: VNode | null;
}

/** An alarm that is over and was seen to: one line, with what was done about it behind its names. */
export const PastAlarm = ({ alarm, tick = null }: PastProps) => {
  const at = clockOf(alarm);
  return (
    <li class="past-alarm" id={alarm.id}>
      <h3>
        {tick}
        <Mark name={markFor(alarm)} />
        <span>
          <Subject alarm={alarm} />
          {': '}
          {ruleName(alarm.rule)}
        </span>
      </h3>
      <p>
        {alarm.message} <span class="dim">{sinceText(alarm, at)}</span>
        {alarm.count > 1 && <span class="dim"> {t('alarm.times', { count: alarm.count })}</span>}
        {alarm.acknowledgedAt !== null && (
          <span class="dim">
            {' '}
            {t('alarm.seen-by', { by: alarm.acknowledgedBy ?? '–', at: at(alarm.acknowledgedAt) })}
          </span>
        )}
      </p>
      <More alarm={alarm} past at={at} caution="" />
    </li>
  );
};
