// How long a heater takes from cold to its window and when in the day it begins, and how that compares with what is
// usual: little wax warms fast, a weak element slowly, a dead one not at all.

import type { Activity } from './activity.ts';

/** Plain JSON. */
export interface WarmUp {
  readonly seconds: number;
  readonly usualSeconds: number;
  /** Warm-ups that the usual one rests on. */
  readonly learned: number;
  /** Usual minute of the local day at which it begins; days that it rests on. */
  readonly startMinute: number;
  readonly startDays: number;
  readonly startedAt: number;
  /** From cold half way to its window: of the newest warm-up, null until it is there; and usual. Absent until one was measured. */
  readonly halfSeconds?: number | null;
  readonly usualHalfSeconds?: number;
  /** Days in a row that it was warmed up; closed ones break none. Absent in states stored before it was counted. */
  readonly inRow?: number;
}

/** A new warm-up weighs this much against the usual one. */
const GAIN = 0.25;
/** One that took this much longer is hardly followed: an element that wears out takes longer each day. */
const LONGER_SHARE = 1.1;
const GAIN_OF_LONGER = 0.06;
/** A warm-up this unlike the usual one is not learned from: it is what the rules look for. */
const LEARN_FROM_SHARE = 0.75;
const LEARN_UP_TO_SHARE = 1.4;
/** The first warm-up of a day only: a second one after lunch proves nothing about mornings. */
const SAME_DAY_MILLIS = 14 * 3_600_000;

/** Some hours more than a day later a day was left out; longer still it was a weekend. */
const NEXT_DAY_MILLIS = 36 * 3_600_000;
const WEEKEND_MILLIS = 60 * 3_600_000;

const NEVER: WarmUp = { seconds: 0, usualSeconds: 0, learned: 0, startMinute: 0, startDays: 0, startedAt: 0 };

/** `minuteOfDay`: of the local day, called only when a warm-up begins. */
export function warmUpStep(
  warmUp: WarmUp | null,
  before: Activity | null,
  now: Activity,
  at: number,
  minuteOfDay: (at: number) => number,
): WarmUp | null {
  if (before?.kind === 'cold' && now.kind === 'warming')
    return beginWarmUp(warmUp ?? NEVER, at, minuteOfDay(at));
  if (before?.kind !== 'warming' || now.kind !== 'hot') return warmUp;
  // The first readings ever came while it was warming: when it was cold is not known.
  if (warmUp === null) return null;
  const seconds = (at - before.since) / 1000;
  // A second one of the day began at whatever the heater had cooled to.
  if (seconds <= 0 || before.since !== warmUp.startedAt) return warmUp;
  if (warmUp.learned === 0)
    return { ...warmUp, seconds, usualSeconds: seconds, learned: 1, ...learnHalf(warmUp, 1) };
  const share = seconds / warmUp.usualSeconds;
  if (warmUp.learned >= 2 && (share < LEARN_FROM_SHARE || share > LEARN_UP_TO_SHARE))
    return { ...warmUp, seconds };
  const gain = warmUp.learned >= 2 && share > LONGER_SHARE ? GAIN_OF_LONGER : GAIN;
  const usualSeconds = warmUp.usualSeconds + gain * (seconds - warmUp.usualSeconds);
  return { ...warmUp, seconds, usualSeconds, learned: warmUp.learned + 1, ...learnHalf(warmUp, gain) };
}

/** The half way of a warm-up that is learned from is learned with it. */
function learnHalf({ halfSeconds, usualHalfSeconds }: WarmUp, gain: number): Partial<WarmUp> {
  if (halfSeconds == null) return {};
  const before = usualHalfSeconds ?? halfSeconds;
  return { usualHalfSeconds: before + gain * (halfSeconds - before) };
}

/** Notes when the first warm-up of a day is half way to its window, at `halfCelsius`. */
export function halfWayStep(
  warmUp: WarmUp | null,
  now: Activity,
  at: number,
  celsius: number,
  halfCelsius: number,
): WarmUp | null {
  if (warmUp === null || warmUp.halfSeconds != null || celsius < halfCelsius) return warmUp;
  if (now.kind !== 'warming' || now.since !== warmUp.startedAt) return warmUp;
  return { ...warmUp, halfSeconds: (at - now.since) / 1000 };
}

function beginWarmUp(warmUp: WarmUp, at: number, minute: number): WarmUp {
  if (at - warmUp.startedAt < SAME_DAY_MILLIS) return warmUp;
  const gain = warmUp.startDays === 0 ? 1 : Math.max(0.25, 1 / (warmUp.startDays + 1));
  return {
    ...warmUp,
    startMinute: warmUp.startMinute + gain * (minute - warmUp.startMinute),
    startDays: warmUp.startDays + 1,
    startedAt: at,
    halfSeconds: null,
    inRow: rowOf(warmUp, at),
  };
}

function rowOf({ inRow = 0, startedAt }: WarmUp, at: number): number {
  const since = at - startedAt;
  if (since < NEXT_DAY_MILLIS) return inRow + 1;
  return since < WEEKEND_MILLIS ? 1 : Math.max(1, inRow);
}
