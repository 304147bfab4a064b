// The short texts for the status of a station: what is so now (minutes when it is heading over, the swing when it
// swings, else the word of its face), and apart from it what was and is over.

import type { AlarmView, IntentView, StationView } from '../../api/schemas.ts';
import { differenceInUnit, formatLimit, formatNumber, formatTemperature } from '../base/format.ts';
import { ruleName, shortRuleName, t, word } from '../base/messages.ts';
import { dataOf, health, line, now, reader } from './lab-state.ts';
import type { Face } from '../base/face.ts';
import { instantText } from './instant-text.ts';

/** What an alarm is about, as people name it; a pattern, which goes by its case, by its id. */
export const subjectName = ({ stationName, subjectKind, subject }: AlarmView): string =>
  stationName ?? (subjectKind === 'site' ? (health.value?.siteName ?? '') : subject);

/** Where the text is shown: a list has room for the name of a rule, the wall for its short name only. */
export type TextPlace = 'list' | 'wall' | 'wall-compact';

const nameOf = (alarm: AlarmView, place: TextPlace): string =>
  place === 'list' ? ruleName(alarm.rule) : shortRuleName(alarm.rule);

/** The word of a face alone. */
export const faceText = ({ word: { group, name } }: Face, place: TextPlace = 'list'): string => {
  if (group === 'condition') return word(group, name);
  return place === 'list' ? ruleName(name) : shortRuleName(name);
};

const presentText = (station: StationView, face: Face, place: TextPlace): string => {
  const data = dataOf(station);
  const plain = faceText(face, place);
  if (data === 'never' && face.alarm === null) return t('wall.never');
  if (data !== 'live' || face.word.group === 'rule') return plain;
  if (station.minutesToCeiling !== null && station.ceiling && station.condition === 'heading-over')
    return t('wall.minutes-to-ceiling', {
      minutes: Math.max(1, Math.round(station.minutesToCeiling)),
      ceiling: formatLimit(station.ceiling.value, reader.value),
    });
  if (station.condition === 'unsteady' && station.swingCelsius !== null) {
    const swing = differenceInUnit(station.swingCelsius, reader.value.unit);
    return t('wall.swing', { swing: formatNumber(swing, 1, reader.value) });
  }
  return plain;
};

/** What is so now; that a station is silent or was never measured is so as well. What was when the line was lost was. */
export const stateText = (station: StationView, face: Face, place: TextPlace = 'list'): string => {
  const text = presentText(station, face, place);
  const isKnown = dataOf(station) === 'live' || face.alarm !== null;
  return line.value === 'down' && isKnown && face.attention !== 'unacknowledged'
    ? t('wall.was-state', { state: text })
    : text;
};

/** An alarm that is over, with its span and what is left to do about it. */
export const pastText = (alarm: AlarmView, place: TextPlace = 'list'): string => {
  const name = nameOf(alarm, place);
  if (place === 'wall-compact') return t('wall.past-short', { alarm: name });
  const from = instantText(alarm.raisedAt);
  if (alarm.clearedAt === null) return t('wall.past-from', { alarm: name, from });
  const key = alarm.acknowledged ? 'wall.past-reset' : 'wall.past';
  return t(key, { alarm: name, from, to: instantText(alarm.clearedAt) });
};

/** What people entered that the station is meant to do, and until when; on a small tile without the time. */
export const intentText = ({ kind, until }: IntentView, place: TextPlace = 'list'): string => {
  const intent = word('intent', kind);
  if (place === 'wall-compact') return intent;
  return t(kind === 'preheat-at' ? 'station.intent-at' : 'station.intent-until', {
    intent,
    at: instantText(until),
  });
};

/** The intents that hold now. */
export const intentsNow = ({ intents }: StationView): readonly IntentView[] =>
  intents.filter(({ until }) => Date.parse(until) > now.value);

/** Acknowledged, past, or since when there is nothing; empty for most. */
const ownNote = (station: StationView, face: Face, place: TextPlace): string => {
  const data = dataOf(station);
  if (face.attention === 'acknowledged' && face.alarm !== null) {
    const alarm = nameOf(face.alarm, place);
    return place === 'wall-compact'
      ? t('wall.acknowledged', { alarm })
      : t('wall.acknowledged-by', { alarm, by: face.alarm.acknowledgedBy ?? '–' });
  }
  if (face.past !== null && face.alarm === null) return pastText(face.past, place);
  if (data === 'never') return t(station.probes.length === 0 ? 'wall.no-probe' : 'wall.waits');
  if (data === 'silent' && station.at !== null && station.celsius !== null) {
    const at = instantText(station.at);
    return place === 'wall-compact'
      ? t('wall.since', { at })
      : t('wall.since-was', { at, value: formatTemperature(station.celsius, reader.value) });
  }
  return '';
};

/** What is beside the state in small: what was or is missing, and what people mean the station to do. */
export const stateNote = (station: StationView, face: Face, place: TextPlace = 'list'): string =>
  [ownNote(station, face, place), ...intentsNow(station).map((intent) => intentText(intent, place))]
    .filter((text) => text !== '')
    .join(' · ');
