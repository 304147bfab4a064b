// How far a pot is below where its thermostat usually keeps it. The wall that the wax wets heats it, and the
// thermostat feels that wall, or a place near it: the less wax there is, the further the wall runs ahead of it for the
// same loss to the room, and the lower the wax stands (heat flow is conductance times difference, and the conductance
// goes with the wetted height). Work sinks it too while it lasts; how far it did on the days before shows what is work.
// Means of ten minutes are compared, so that what a cycle does in between does not matter; and of the newest the second
// highest, because between two turns of work a pot comes back to where it usually is, and one that holds less does not.

import { type FurthestOfDays, furthestStep, startFurthest } from './furthest-of-days.ts';
import { meanOf, TEN_MINUTES_MILLIS, type TenMinutes } from './ten-minutes.ts';

/** Plain JSON, replaced as a whole each ten minutes at work. */
export interface Sinking {
  /** Newest stretches in a row at work, oldest first. */
  readonly stretches: readonly TenMinutes[];
  /** Stretches in a row in which it fell as a whole. */
  readonly falls: number;
  /** Where it usually is at work, °C, by the same measure, and the times that this rests on. */
  readonly usual: number;
  readonly learned: number;
  /** Kelvins below the usual, by the second highest of the newest stretches; null: too few in a row. */
  readonly sunk: number | null;
  readonly at: number;
  readonly work: FurthestOfDays;
}

const STRETCHES = 7;
/** Of the range of the stretch before it: what overlaps it by less has moved as a whole. */
const OVERLAP = 0.3;
/** So many falls in a row are those of a heater that is off. */
const OFF_FALLS = 2;
/** A set point that was turned down is followed within days, a level that falls within hours hardly. */
const GAIN_LEAST = 1 / 100;
/** Cold wax takes it far down for a while; kelvins that one stretch counts at most once some are known. */
const MOST_OFF = 0.5;
const FIRST_STRETCHES = 12;

/** Takes in ten minutes at work that are over; `workedAt`: when somebody was last at work there. */
export function sinkingStep(sinking: Sinking | null, stretch: TenMinutes, workedAt: number): Sinking {
  const { at, celsius } = meanOf(stretch);
  const before = sinking ?? beginSinking(at, celsius);
  const last = before.stretches.at(-1);
  const isNext = last !== undefined && stretch.at - last.at === TEN_MINUTES_MILLIS;
  const overlap = last === undefined ? 0 : OVERLAP * (last.high - last.low);
  const falls = isNext && stretch.high <= last.low + overlap ? before.falls + 1 : 0;
  const isOff = falls >= OFF_FALLS;
  const isRecovering = before.stretches.length === 1 && isNext && stretch.low >= last.high - overlap;
  const isFirst = !isNext || isRecovering || isOff;
  const stretches = isFirst ? [stretch] : [...before.stretches.slice(1 - STRETCHES), stretch];
  const stands = stretches.length < STRETCHES ? null : secondHighest(stretches);
  const habit = isOff || stands === null ? before : learnHabit(before, stands);
  const sunk = stands === null ? null : habit.usual - stands;
  const work = sunk === null ? before.work : furthestStep(before.work, at, sunk, MOST_OFF, workedAt);
  const { learned, usual } = habit;
  return { stretches, falls, usual, learned, sunk, at, work };
}

/** °C. */
const secondHighest = (stretches: readonly TenMinutes[]): number =>
  stretches.map((stretch) => meanOf(stretch).celsius).sort((a, b) => b - a)[1] ?? 0;

const beginSinking = (at: number, celsius: number): Sinking => ({
  stretches: [],
  falls: 0,
  usual: celsius,
  learned: 0,
  sunk: null,
  at,
  work: startFurthest(at),
});

function learnHabit({ learned, usual }: Sinking, celsius: number): Pick<Sinking, 'usual' | 'learned'> {
  const count = learned + 1;
  const most = count <= FIRST_STRETCHES ? Number.POSITIVE_INFINITY : MOST_OFF;
  const off = Math.min(most, Math.max(-most, celsius - usual));
  return { learned: count, usual: usual + Math.max(GAIN_LEAST, 1 / count) * off };
}
