// What is usual for one heater at work: the band its thermostat keeps, its rhythm, how far it overshoots after a
// warm-up, how fast it rises and falls. Learned from closed stretches in good order only: nothing is learned while
// anything at the station is suspicious, so that a fault is not taken for a habit.

import { MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { DayTops } from './day-tops.ts';
import { upperMedian } from './upper-median.ts';

/** One full cycle, from a low turning point over the high one to the next low one. */
export interface HeatCycle {
  readonly at: number;
  readonly riseSeconds: number;
  readonly fallSeconds: number;
  readonly low: number;
  readonly high: number;
  /** Somebody was at work there meanwhile. */
  readonly disturbed: boolean;
}

/** Plain JSON, advanced in place. Temperatures in °C, instants in epoch milliseconds. */
export interface HeaterBand {
  /** Which way the temperature goes; 0 until it has moved by the hysteresis. */
  going: -1 | 0 | 1;
  /** Extremes since the last turn. */
  top: number;
  topAt: number;
  bottom: number;
  bottomAt: number;
  /** Turning points of the cycle under way; instants are 0 while there is none. */
  valley: number;
  valleyAt: number;
  peak: number;
  peakAt: number;
  /** The newest cycles, oldest first. Replaced as a whole. */
  cycles: readonly HeatCycle[];
  /** The newest ten minutes of steady control, each as a cycle without rise or fall; absent: it always cycled. */
  stretches?: readonly HeatCycle[];
  /** Since when and how far it has held still within its usual band; absent: it moves. Replaced as a whole. */
  still?: { readonly since: number; readonly low: number; readonly high: number } | undefined;
  /** When it last began to move again after it had held still; absent: never seen. */
  movedAt?: number;
  /** Usual band, rise and fall; null until it has been settled for a while. */
  usual: UsualBand | null;
  /** Upper turn as it was over its first days at this setting; null until it is known. */
  reference: Reference | null;
  /** Tops of its last day at work; absent: none is over. */
  day?: DayTops;
  /** Cycles in a row that are unlike the usual ones but like each other. */
  unlike: number;
  /** Tops beyond the usual ones at which it turned by itself, oldest first; absent: none of late. */
  beyond?: readonly number[];
}

export interface Reference {
  readonly high: number;
  readonly cycles: number;
  readonly since: number;
  /** Natural logarithm of rise and fall together, kelvins a minute; absent: no cycle has closed since it is kept. */
  readonly pace?: number;
  /** Lowest and highest median top of some cycles in its first hours, °C; absent: not measured then. */
  readonly lowest?: number;
  readonly highest?: number;
  /** Usual distance of a top above the usual one meanwhile, kelvins; absent in a state of an earlier version. */
  readonly spread?: number;
  /** Kelvins from it to where the set point was moved, newest last; absent: never. */
  readonly moved?: readonly number[];
}

export interface UsualBand {
  high: number;
  low: number;
  riseSeconds: number;
  fallSeconds: number;
  /** Usual distance of a top above the usual one, kelvins. */
  spread: number;
  /** Highest top and lowest bottom of late; each fades slowly towards the usual one. */
  top: number;
  bottom: number;
  /** Cycles, or ten minutes of steady control, that it rests on. */
  learned: number;
  /** When it was learned from last. */
  at: number;
}

const KEPT_CYCLES = 16;
const LONGEST_GAP_MILLIS = 5 * MILLIS_PER_MINUTE;
const WIDE_TIMES = 4;
const WIDE_SHARE = 0.45;
/** A longer rise or fall is a night, and no cycle. */
const LONGEST_HALF_MILLIS = 180 * MILLIS_PER_MINUTE;
/** A set point that was changed on purpose is the usual one after so many cycles or stretches alike. */
const RELEARN_AFTER = 24;
const FIRST_CYCLES = 8;
const GAIN_LEAST = 0.04;
const FADE = 0.005;
/** Kelvins above the usual top that work may bring about. */
const HIGHEST_AT_WORK = 5;
const REFERENCE_CYCLES = 60;
const FEWEST_RANGE = 16;
const RANGE_MILLIS = 20 * 60 * MILLIS_PER_MINUTE;
const TOP_CYCLES = 8;

export const startBand = (at: number, celsius: number): HeaterBand => ({
  going: 0,
  top: celsius,
  topAt: at,
  bottom: celsius,
  bottomAt: at,
  valley: 0,
  valleyAt: 0,
  peak: 0,
  peakAt: 0,
  cycles: [],
  usual: null,
  reference: null,
  unlike: 0,
});

/**
 * Takes one value in; true when a cycle was closed.
 * `hysteresis`: a turn counts once the temperature has come back by this much, kelvins. `disturbedAt`: when somebody was
 * last at work there. `shortestMillis`: a rise or fall that is shorter makes no cycle.
 */
export function advanceBand(
  band: HeaterBand,
  lastAt: number,
  at: number,
  celsius: number,
  hysteresis: number,
  disturbedAt: number,
  shortestMillis: number,
): boolean {
  if (at - lastAt > LONGEST_GAP_MILLIS) {
    restartTurns(band, at, celsius);
    return false;
  }
  if (celsius > band.top) {
    band.top = celsius;
    band.topAt = at;
  }
  if (celsius < band.bottom) {
    band.bottom = celsius;
    band.bottomAt = at;
  }
  if (band.going !== -1 && band.top - celsius >= hysteresis) {
    band.peak = band.top;
    band.peakAt = band.going === 1 ? band.topAt : 0;
    band.going = -1;
    band.bottom = celsius;
    band.bottomAt = at;
    return false;
  }
  if (band.going === 1 || celsius - band.bottom < hysteresis) return false;
  const { bottom, bottomAt } = band;
  // What swings far beyond any noise is a cycle though few readings fall on it.
  const isWide = band.peak - bottom >= WIDE_TIMES * hysteresis;
  const shortest = isWide ? WIDE_SHARE * shortestMillis : shortestMillis;
  const isHalf = (millis: number): boolean => millis >= shortest && millis <= LONGEST_HALF_MILLIS;
  const isCycle = isHalf(band.peakAt - band.valleyAt) && isHalf(bottomAt - band.peakAt);
  const closed = band.going === -1 && band.valleyAt > 0 && band.peakAt > 0 && isCycle;
  if (closed)
    band.cycles = [
      ...band.cycles.slice(1 - KEPT_CYCLES),
      {
        at: bottomAt,
        riseSeconds: (band.peakAt - band.valleyAt) / 1000,
        fallSeconds: (bottomAt - band.peakAt) / 1000,
        low: (band.valley + bottom) / 2,
        high: band.peak,
        disturbed: disturbedAt >= band.valleyAt,
      },
    ];
  band.valley = bottom;
  band.valleyAt = band.going === -1 ? bottomAt : 0;
  band.peakAt = 0;
  band.going = 1;
  band.top = celsius;
  band.topAt = at;
  return closed;
}

function restartTurns(band: HeaterBand, at: number, celsius: number): void {
  band.going = 0;
  band.top = celsius;
  band.topAt = at;
  band.bottom = celsius;
  band.bottomAt = at;
  band.valleyAt = 0;
  band.peakAt = 0;
}

/** Learns from the cycle that was closed last. */
export function learnCycle(band: HeaterBand): void {
  const cycle = band.cycles.at(-1);
  if (cycle === undefined) return;
  const { usual } = band;
  if (cycle.disturbed && usual !== null && usual.learned >= FIRST_CYCLES) {
    // What work brings about is usual too, but no habit of the thermostat.
    if (cycle.high < usual.high + HIGHEST_AT_WORK) usual.top = Math.max(usual.top, cycle.high);
    return;
  }
  learn(band, cycle);
  learnReference(band, cycle);
}

/** The first dozens of cycles make the reference; it is kept, so that a creep of days shows against it. */
function learnReference(band: HeaterBand, cycle: HeatCycle): void {
  const { at, high } = cycle;
  const cycles = band.reference?.cycles ?? 0;
  if (band.reference !== null && cycles >= FEWEST_RANGE) learnRange(band, band.reference, at);
  if (cycles >= REFERENCE_CYCLES) return;
  const before = band.reference?.high ?? high;
  const newest = cycle.riseSeconds === 0 ? band.reference?.pace : paceOf(cycle);
  const pace = band.reference?.pace ?? newest;
  band.reference = {
    high: before + (high - before) / (cycles + 1),
    cycles: cycles + 1,
    since: band.reference?.since ?? at,
    ...(pace !== undefined && newest !== undefined && { pace: pace + (newest - pace) / (cycles + 1) }),
    ...rangeOf(band.reference),
  };
}

/** Median top of the newest cycles and stretches whose tops lie above, and these; null while there are too few. */
export function newestTop(
  { cycles, stretches }: Pick<HeaterBand, 'cycles' | 'stretches'>,
  above: number,
): { readonly cycles: readonly HeatCycle[]; readonly top: number } | null {
  const all =
    stretches === undefined
      ? cycles
      : [...cycles, ...stretches].sort((first, second) => first.at - second.at);
  const newest = all.filter(({ high }) => high > above).slice(-TOP_CYCLES);
  return newest.length < TOP_CYCLES
    ? null
    : { cycles: newest, top: upperMedian(newest.map(({ high }) => high)) };
}

/** Work and rest may make two levels of tops, each kept for an hour: both are those of the first day. */
function learnRange(band: HeaterBand, reference: Reference, at: number): void {
  const top = newestTop(band, band.usual?.low ?? 0)?.top;
  if (top === undefined || at - reference.since > RANGE_MILLIS) return;
  const { highest = top, lowest = top } = reference;
  const range = { lowest: Math.min(lowest, top), highest: Math.max(highest, top) };
  band.reference = { ...reference, ...range, ...(band.usual !== null && { spread: band.usual.spread }) };
}

type Range = Pick<Reference, 'lowest' | 'highest' | 'moved' | 'spread'>;
const rangeOf = (reference: Reference | null): Range => {
  if (reference?.lowest === undefined || reference.highest === undefined) return {};
  const { highest, lowest, moved, spread } = reference;
  return { highest, lowest, ...(spread !== undefined && { spread }), ...(moved && { moved }) };
};

/**
 * Natural logarithm of how fast a cycle rises and falls, both together, in kelvins a minute: the power of its heater
 * over the heat capacity of pot and wax, whatever it loses to the room meanwhile.
 */
export const paceOf = ({ fallSeconds, high, low, riseSeconds }: HeatCycle): number =>
  Math.log(Math.max(1e-6, 60 * (high - low) * (1 / riseSeconds + 1 / fallSeconds)));

/** Takes in ten minutes of steady control, in which the temperature hardly turned, and learns from them if it is to. */
export function addSteady(band: HeaterBand, at: number, low: number, high: number, learns: boolean): void {
  const stretch = { at, low, high, riseSeconds: 0, fallSeconds: 0, disturbed: false };
  band.stretches = [...(band.stretches ?? []), stretch].slice(-TOP_CYCLES);
  if (!learns) return;
  learn(band, stretch);
  learnReference(band, stretch);
}

function learn(band: HeaterBand, cycle: HeatCycle): void {
  const { usual } = band;
  if (usual === null) {
    band.usual = firstUsual(cycle, 0.3, 1);
    return;
  }
  if (!isLike(usual, cycle)) {
    band.unlike += 1;
    if (band.unlike >= RELEARN_AFTER) {
      band.usual = firstUsual(cycle, 0.5, 4);
      band.reference = null;
    }
    return;
  }
  band.unlike = 0;
  usual.learned += 1;
  usual.at = cycle.at;
  const gain = Math.max(GAIN_LEAST, 1 / usual.learned);
  // A rise that work cuts short proves nothing about how far others go.
  const off = Math.max(0, cycle.high - usual.high);
  usual.spread += (off > usual.spread ? 0.3 : 0.05) * (off - usual.spread);
  usual.top = Math.max(cycle.high, usual.top - FADE * (usual.top - usual.high));
  usual.bottom = Math.min(cycle.low, usual.bottom + FADE * (usual.low - usual.bottom));
  usual.high += gain * (cycle.high - usual.high);
  usual.low += gain * (cycle.low - usual.low);
  if (cycle.riseSeconds > 0) {
    usual.riseSeconds = stepTowards(usual.riseSeconds, cycle.riseSeconds, gain);
    usual.fallSeconds = stepTowards(usual.fallSeconds, cycle.fallSeconds, gain);
  }
}

/** A lone cycle that lasted many times as long, as after a climb, moves what is usual no further than one twice as long. */
const stepTowards = (usual: number, value: number, gain: number): number =>
  usual === 0 ? value : usual + gain * (Math.min(2 * usual, value) - usual);

const firstUsual = (
  { at, high, low, riseSeconds, fallSeconds }: HeatCycle,
  spread: number,
  learned: number,
): UsualBand => ({ at, high, low, riseSeconds, fallSeconds, spread, learned, top: high, bottom: low });

/** Near enough to be the same habit: the first few are taken as they come. */
const isLike = (usual: UsualBand, { high, low }: HeatCycle): boolean => {
  if (usual.learned < 12) return true;
  const slack = Math.max(1.5, 0.5 * (usual.high - usual.low));
  return Math.abs(high - usual.high) <= slack && Math.abs(low - usual.low) <= 1.5 * slack;
};
