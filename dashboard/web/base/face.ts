// How a station looks: which mark, which tone, which word. Grey unless hands are needed; the worst alarm that is so
// now and not suppressed counts first, then the condition itself. What was and is over has a look of its own. Pure.

import type { AlarmView, StationView } from '../../api/schemas.ts';
import type { Priority } from '../../../alerts/watch/rule/priority.ts';
import type { StationCondition } from '../../../alerts/watch/engine/station-status.ts';
import { isMark, type MarkName } from './marks.tsx';

export type Tone = 'urgent' | 'high' | 'medium' | 'low' | 'calm' | 'absent';
/** What a person did about it; `past` when it is over but not yet confirmed, `calm` when there is nothing to do. */
export type Attention = 'unacknowledged' | 'acknowledged' | 'past' | 'calm';

export interface Face {
  readonly mark: MarkName;
  readonly tone: Tone;
  readonly attention: Attention;
  /** Group and name of the word in the catalogue. */
  readonly word: { readonly group: 'condition' | 'rule'; readonly name: string };
  /** The worst that is so now. */
  readonly alarm: AlarmView | null;
  /** The worst of those that are over and that nobody has confirmed or reset. */
  readonly past: AlarmView | null;
}

const RANK: Readonly<Record<Priority, number>> = { urgent: 0, high: 1, medium: 2, low: 3, notice: 4 };
const PRIORITY_TONE: Readonly<Record<Priority, Tone>> = {
  urgent: 'urgent',
  high: 'high',
  medium: 'medium',
  low: 'low',
  notice: 'calm',
};
/** Tones of a condition that has no alarm yet, because its delay is running. */
const CONDITION_TONE: Readonly<Record<StationCondition, Tone>> = {
  'no-data': 'absent',
  cold: 'calm',
  warming: 'calm',
  'below-window': 'calm',
  'in-window': 'calm',
  'above-window': 'calm',
  'heading-over': 'high',
  'over-ceiling': 'urgent',
  'fire-risk': 'urgent',
  'left-on': 'medium',
  steady: 'calm',
  unsteady: 'low',
  'too-warm': 'low',
  measured: 'calm',
};

const isPriority = (name: string): name is Priority => Object.hasOwn(RANK, name);
const isCondition = (name: string): name is StationCondition => Object.hasOwn(CONDITION_TONE, name);

const rankOf = (alarm: AlarmView): number => (isPriority(alarm.priority) ? RANK[alarm.priority] : 5);
export const toneOf = (priority: string): Tone => (isPriority(priority) ? PRIORITY_TONE[priority] : 'calm');
export const markOf = (name: string): MarkName => (isMark(name) ? name : 'notice');

/** Shelved, suppressed and out of service: somebody or the logic took it off the table for a while. */
export const isSuppressed = (alarm: AlarmView): boolean => ['G', 'H', 'I'].includes(alarm.stateCode);
export const needsHands = (alarm: AlarmView): boolean => !isSuppressed(alarm) && alarm.priority !== 'notice';
/** Over, or learned of only afterwards: it calls for a look, and its advice for the moment holds no more. */
export const isPast = (alarm: AlarmView): boolean => !alarm.active || alarm.tense === 'learned';

/**
 * What announces itself before what is shelved or suppressed; unacknowledged first, then what is so now, then the worse, that
 * of a station before that of a device, the newer.
 */
export const byUrgency = (first: AlarmView, second: AlarmView): number =>
  Number(isSuppressed(first)) - Number(isSuppressed(second)) ||
  Number(first.acknowledged) - Number(second.acknowledged) ||
  Number(isPast(first)) - Number(isPast(second)) ||
  rankOf(first) - rankOf(second) ||
  Number(first.station === null) - Number(second.station === null) ||
  Date.parse(second.raisedAt) - Date.parse(first.raisedAt);

export const stationFace = (
  station: Pick<StationView, 'id' | 'condition'>,
  alarms: readonly AlarmView[],
  isLive: boolean,
): Face => {
  const own = alarms
    .filter((alarm) => alarm.station === station.id && needsHands(alarm))
    .sort((first, second) => rankOf(first) - rankOf(second) || byUrgency(first, second));
  const worst = own.find((alarm) => !isPast(alarm));
  const past = own.find(isPast) ?? null;
  const condition = isLive && isCondition(station.condition) ? station.condition : 'no-data';
  const conditionWord = { group: 'condition', name: condition } as const;
  if (!worst)
    return {
      mark: condition,
      tone: CONDITION_TONE[condition],
      attention: past === null ? 'calm' : 'past',
      word: conditionWord,
      alarm: null,
      past,
    };
  // Whoever acknowledged it must still see whether the pot is hot or cold.
  const showsCondition = worst.acknowledged && isLive;
  return {
    mark: showsCondition ? condition : markOf(worst.priority),
    tone: toneOf(worst.priority),
    attention: worst.acknowledged ? 'acknowledged' : 'unacknowledged',
    word: showsCondition ? conditionWord : { group: 'rule', name: worst.rule },
    alarm: worst,
    past,
  };
};
