// The tiles of the wall as texts: one a station, and one for each alarm that no station carries. Those that call for
// hands come worst first. What moves with every reading is read where it is drawn.

import { computed, type Signal } from '@preact/signals';
import type { AlarmView, StationView } from '../../../api/schemas.ts';
import { byUrgency, type Face, isPast, needsHands, stationFace } from '../../base/face.ts';
import { formatDegrees, unitMark } from '../../base/format.ts';
import { briefAction, shortRuleName, t } from '../../base/messages.ts';
import { dataOf, isLive, line, openAlarms, reader, stations } from '../../live/lab-state.ts';
import { stateNote, stateText, subjectName } from '../../live/state-text.ts';
import { duePatterns } from '../common/bench/next-pattern.ts';
import { nameOfPattern } from '../common/bench/patterns-due.ts';
import { joinHyphens } from '../common/wall/text-fit.ts';
import type { TileTexts } from '../common/wall/wall-tile.ts';

export interface WallTile extends TileTexts {
  readonly station: Signal<StationView> | null;
  readonly alarm: AlarmView | null;
}

/** A pattern is known to people by its case. */
const patternOf = (alarm: AlarmView): string => {
  if (alarm.subjectKind !== 'pattern') return '';
  const pattern = duePatterns.value.find(({ id }) => id === alarm.subject);
  return joinHyphens(pattern === undefined ? alarm.subject : nameOfPattern(pattern));
};

const otherAlarmsOf = (alarm: AlarmView): readonly string[] =>
  openAlarms.value
    .filter(
      (each) => each.station === alarm.station && each.id !== alarm.id && needsHands(each) && !isPast(each),
    )
    // Of the same kind only its pattern is another one.
    .map((each) => (each.rule === alarm.rule && patternOf(each)) || shortRuleName(each.rule));

const alarmNote = (alarm: AlarmView, station: StationView | null, face: Face | null): string => {
  const also = alarm.station === null ? [] : otherAlarmsOf(alarm);
  const silent = station !== null && face !== null && dataOf(station) === 'silent';
  return [
    patternOf(alarm),
    silent ? stateNote(station, { ...face, past: null }, 'wall-compact') : '',
    also.length > 0 ? t('wall.also', { alarms: also.join(', ') }) : '',
  ]
    .filter((part) => part !== '')
    .join(' · ');
};

const isUnacknowledged = (face: Face): boolean => face.alarm !== null && face.attention === 'unacknowledged';

export const faceOf = (station: StationView): Face => stationFace(station, openAlarms.value, isLive(station));

export const shownValue = (station: StationView): string =>
  isLive(station) && station.celsius !== null ? formatDegrees(station.celsius, reader.value) : '–';

/** Advice belongs to the present, of which nothing is known while the line is lost. */
const adviceOf = (alarm: AlarmView): string =>
  line.value === 'down' ? t('wall.look-yourself') : briefAction(alarm.rule);

const stationTile = (source: Signal<StationView>, order: number): WallTile => {
  const station = source.value;
  const face = faceOf(station);
  const alarm = isUnacknowledged(face) ? face.alarm : null;
  return {
    key: station.id,
    order,
    station: source,
    alarm,
    isAlarm: alarm !== null,
    isNotable: face.attention !== 'calm' || dataOf(station) !== 'live',
    name: station.name,
    value: shownValue(station),
    unit: isLive(station) ? unitMark(reader.value.unit) : '',
    word: stateText(station, face, 'wall'),
    advice: alarm === null ? '' : adviceOf(alarm),
    note: alarm === null ? stateNote(station, face, 'wall') : alarmNote(alarm, station, face),
    briefNote: alarm === null ? stateNote(station, face, 'wall-compact') : alarmNote(alarm, station, face),
  };
};

/** An alarm of a device or of the lab, which no station carries. */
const alarmTile = (alarm: AlarmView, order: number): WallTile => {
  const note = alarmNote(alarm, null, null);
  return {
    key: `alarm ${alarm.id}`,
    order,
    station: null,
    alarm,
    isAlarm: true,
    isNotable: true,
    name: subjectName(alarm),
    value: '',
    unit: '',
    word: shortRuleName(alarm.rule),
    advice: adviceOf(alarm),
    note,
    briefNote: note,
  };
};

const byAlarm = (earlier: WallTile, later: WallTile): number =>
  earlier.alarm && later.alarm ? byUrgency(earlier.alarm, later.alarm) : 0;

/** Alarms worst first, then the other stations in the order of the lab. */
export const wallTiles = computed((): readonly WallTile[] => {
  const ids = new Set(stations.value.map((source) => source.peek().id));
  const alone = openAlarms.value
    .filter((alarm) => needsHands(alarm) && !isPast(alarm) && !alarm.acknowledged)
    .filter((alarm) => alarm.station === null || !ids.has(alarm.station))
    .map((alarm, index) => alarmTile(alarm, ids.size + index));
  const all = [...stations.value.map(stationTile), ...alone];
  return [...all.filter(({ isAlarm }) => isAlarm).sort(byAlarm), ...all.filter(({ isAlarm }) => !isAlarm)];
});
