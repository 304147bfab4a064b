// Rainflow counting of a temperature history: which swings, how large, about which mean. Three-point method of
// ASTM E1049-85 (2017), clause 5.4.4, as a stream with bounded memory. It counts; what harms is for others to judge.

import type { Mutable } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';

/** One swing between two turning points; a half cycle has count 0.5. Units are those of the values. */
export interface Cycle {
  readonly range: number;
  readonly mean: number;
  readonly count: 0.5 | 1;
  readonly from: number;
  readonly to: number;
}

/** The most turning points that are kept; the oldest swing is then counted as the half cycle that it is so far. */
export const MOST_TURNING_POINTS = 512;

/** A running count; plain JSON. */
export interface RainflowState {
  /** Turning points whose swings are still open, oldest first; their ranges fall. */
  readonly points: readonly number[];
  /** The newest value, a turning point when the next one turns back. Means nothing while `values` is 0. */
  readonly last: number;
  /** 1 rising, -1 falling, 0 while nothing has moved yet. */
  readonly direction: -1 | 0 | 1;
  readonly values: number;
  /** Values that were no finite numbers. */
  readonly refused: number;
  /** How often memory ran out and an open swing was counted early. */
  readonly forced: number;
  /** Whether the first and the newest value count as turning points, as in the worked example of the standard. */
  readonly countsEnds: boolean;
}

export interface RainflowOptions {
  readonly countsEnds?: boolean;
}

export const rainflowStart = ({ countsEnds = true }: RainflowOptions = {}): RainflowState => ({
  points: [],
  last: 0,
  direction: 0,
  values: 0,
  refused: 0,
  forced: 0,
  countsEnds,
});

/** Gets every counted swing; `count` is 0.5 or 1. */
export type CycleSink = (from: number, to: number, count: 0.5 | 1) => void;

type Running = Mutable<Omit<RainflowState, 'points'>> & { points: number[] };

/** A copy for `rainflowAdvance`. Written out, so that all of them have one hidden shape and stay fast. */
export const runningRainflow = (state: RainflowState = rainflowStart()): Running => ({
  points: state.points.slice(),
  last: state.last,
  direction: state.direction,
  values: state.values,
  refused: state.refused,
  forced: state.forced,
  countsEnds: state.countsEnds,
});

const closeSwings = (points: number[], sink: CycleSink): void => {
  for (let size = points.length; size >= 3; size = points.length) {
    const first = points[size - 3] ?? 0;
    const second = points[size - 2] ?? 0;
    const third = points[size - 1] ?? 0;
    if (Math.abs(third - second) < Math.abs(second - first)) return;
    if (size === 3) {
      sink(first, second, 0.5);
      points.shift();
    } else {
      sink(first, second, 1);
      points[size - 3] = third;
      points.length = size - 2;
    }
  }
};

/** `rainflowStep` in place, for millions of values: allocates nothing; counted swings go to `sink`. */
export const rainflowAdvance = (state: Running, value: number, sink: CycleSink): void => {
  if (!Number.isFinite(value)) {
    state.refused += 1;
    return;
  }
  state.values += 1;
  if (state.values === 1) {
    state.last = value;
    if (state.countsEnds) state.points.push(value);
    return;
  }
  if (value === state.last) return;
  const direction = value > state.last ? 1 : -1;
  if (state.direction !== 0 && direction !== state.direction) {
    const { points } = state;
    points.push(state.last);
    closeSwings(points, sink);
    if (points.length > MOST_TURNING_POINTS) {
      sink(points[0] ?? 0, points[1] ?? 0, 0.5);
      points.shift();
      state.forced += 1;
    }
  }
  state.direction = direction;
  state.last = value;
};

const cycleBetween = (from: number, to: number, count: 0.5 | 1): Cycle => ({
  range: Math.abs(to - from),
  mean: (from + to) / 2,
  count,
  from,
  to,
});

/** One more value, and the swings that it closed. A value that is no finite number is counted in `refused`. */
export const rainflowStep = (
  state: RainflowState,
  value: number,
): { readonly state: RainflowState; readonly cycles: readonly Cycle[] } => {
  const next = runningRainflow(state);
  const cycles: Cycle[] = [];
  rainflowAdvance(next, value, (from, to, count) => cycles.push(cycleBetween(from, to, count)));
  return { state: next, cycles };
};

/** The swings that are still open, as the history would be counted if it ended now. Changes nothing. */
export const rainflowResidue = (state: RainflowState): readonly Cycle[] => {
  const cycles: Cycle[] = [];
  const points = [...state.points];
  if (state.countsEnds && state.direction !== 0) {
    points.push(state.last);
    closeSwings(points, (from, to, count) => cycles.push(cycleBetween(from, to, count)));
  }
  for (let index = 1; index < points.length; index += 1) {
    cycles.push(cycleBetween(points[index - 1] ?? 0, points[index] ?? 0, 0.5));
  }
  return cycles;
};

/** A whole history from outside, in the order of counting. */
export const rainflow = (
  values: readonly number[],
  options: RainflowOptions = {},
): Result<readonly Cycle[]> => {
  if (values.length === 0) return failure('series-empty');
  const state = runningRainflow(rainflowStart(options));
  const cycles: Cycle[] = [];
  for (const [index, value] of values.entries()) {
    if (!Number.isFinite(value)) {
      return failure('not-a-number', {}, value, `values/${index}`);
    }
    rainflowAdvance(state, value, (from, to, count) => cycles.push(cycleBetween(from, to, count)));
  }
  return success([...cycles, ...rainflowResidue(state)]);
};
