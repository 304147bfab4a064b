// The temperatures that a pattern went through, as one course from the instant when it was made: reduced time and
// temperature at any instant of it, with what is not known apart. Straight lines between points; a point says itself
// when nothing was measured since the one before.

import { isTemperature, type TimedCelsius } from '../reading-guard.ts';
import {
  likelyReducedSeconds,
  relaxationAdvance,
  relaxationStart,
  type RelaxationState,
  runningRelaxation,
} from './reduced-time.ts';
import { meanThermalFactor, thermalFactor, type ThermalRate } from '../heat/thermal-rate.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_SECOND, type Seconds } from '../units.ts';

export interface CoursePoint extends TimedCelsius {
  /** Nothing was measured since the point before; it was at most this warm, °C. */
  readonly atMostCelsius?: Celsius;
}

/** Seconds at the reference temperature: as likely as not, with gaps left out, with gaps as warm as they may have been. */
export interface ReducedSeconds {
  readonly likely: number;
  readonly least: number;
  readonly most: number;
}

export interface ReducedCourse {
  readonly at: EpochMillis;
  /** At its end. */
  readonly celsius: Celsius;
  readonly nodes: readonly CourseNode[];
  readonly rate: ThermalRate;
}

/** Reduced seconds up to a point of the course. */
export interface CourseNode extends ReducedSeconds {
  readonly at: number;
  readonly celsius: number;
  readonly kind: 'measured' | 'gap' | 'sum';
  readonly atMost: number;
}

const nodeOf = (
  state: RelaxationState,
  kind: CourseNode['kind'],
  atMost: number = state.celsius,
): CourseNode => ({
  at: state.at,
  celsius: state.celsius,
  likely: likelyReducedSeconds(state),
  least: state.reducedSeconds,
  most: state.reducedSeconds + state.gapReducedMost,
  kind,
  atMost,
});

/**
 * @param start when the pattern was made; until the first point it lay as that says
 * @param points oldest first; those that are not newer than the one before are left out
 * @param carried reduced time up to an instant of which the temperatures are no longer there
 * @returns null without a single temperature
 */
export function reducedCourse(
  start: EpochMillis,
  points: readonly CoursePoint[],
  rate: ThermalRate,
  carried: RelaxationState | null = null,
): ReducedCourse | null {
  const state = runningRelaxation(carried ?? relaxationStart(start));
  const first = carried?.celsius ?? points[0]?.celsius;
  if (first === undefined) return null;
  const nodes: CourseNode[] = [nodeOf({ ...relaxationStart(start), celsius: first }, 'measured')];
  if (carried !== null) nodes.push(nodeOf(carried, 'sum'));
  for (const point of points) {
    const { atMostCelsius } = point;
    const longestGap = (atMostCelsius === undefined ? Infinity : 0) as Seconds;
    const readings = state.readings;
    relaxationAdvance(state, point, { rate, longestGap }, atMostCelsius);
    if (state.readings === readings) continue;
    nodes.push(nodeOf(state, atMostCelsius === undefined ? 'measured' : 'gap', atMostCelsius));
  }
  return { at: state.at, celsius: state.celsius, nodes, rate };
}

/** Index of the newest node that is not after the instant; the first one before its time. */
const indexAt = (nodes: readonly CourseNode[], at: number): number => {
  let [low, high] = [0, nodes.length - 1];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if ((nodes[middle]?.at ?? 0) <= at) low = middle;
    else high = middle - 1;
  }
  return low;
};

type Place = Pick<CourseNode, 'at' | 'celsius'>;

const interpolate = (before: Place, after: Place, at: number): number =>
  before.celsius + ((after.celsius - before.celsius) * (at - before.at)) / (after.at - before.at);

function celsiusAt({ nodes, celsius }: ReducedCourse, at: number): Celsius {
  const index = indexAt(nodes, at);
  const [before, after] = [nodes[index], nodes[index + 1]];
  if (before === undefined) return celsius;
  if (after === undefined || at <= before.at) return before.celsius as Celsius;
  return interpolate(before, after, at) as Celsius;
}

/** Reduced seconds from the start of the course to an instant of it; after its end those of its end. */
export function reducedSecondsAt({ nodes, rate }: ReducedCourse, at: number): ReducedSeconds {
  const index = indexAt(nodes, at);
  const [before, after] = [nodes[index], nodes[index + 1]];
  if (before === undefined) return { likely: 0, least: 0, most: 0 };
  if (after === undefined || at <= before.at) return before;
  if (after.kind === 'sum') {
    const share = (at - before.at) / (after.at - before.at);
    return {
      likely: before.likely + share * (after.likely - before.likely),
      least: before.least + share * (after.least - before.least),
      most: before.most + share * (after.most - before.most),
    };
  }
  const elapsed = (at - before.at) / MILLIS_PER_SECOND;
  const reduced = elapsed * meanThermalFactor(rate, before.celsius, interpolate(before, after, at));
  const isGap = after.kind === 'gap';
  const atMost = Math.max(before.celsius, after.celsius, after.atMost);
  return {
    likely: before.likely + reduced,
    least: before.least + (isGap ? 0 : reduced),
    most: before.most + (isGap ? elapsed * thermalFactor(rate, atMost) : reduced),
  };
}

export interface CourseHeat {
  readonly peakCelsius: number;
  readonly secondsAbove: number;
  readonly gapSeconds: number;
}

/** Since an instant: the warmest, how long above a limit, and how long nothing was measured. */
export function heatSince(course: ReducedCourse, since: number, limitCelsius: number): CourseHeat {
  const from = Math.min(since, course.at);
  let peakCelsius: number = celsiusAt(course, from);
  let [secondsAbove, gapSeconds] = [0, 0];
  let before = { at: from, celsius: peakCelsius };
  for (const node of course.nodes) {
    if (node.at <= from) continue;
    const seconds = (node.at - before.at) / MILLIS_PER_SECOND;
    if (node.kind === 'gap') gapSeconds += seconds;
    else secondsAbove += seconds * shareAbove(before.celsius, node.celsius, limitCelsius);
    peakCelsius = Math.max(peakCelsius, node.celsius);
    before = node;
  }
  return { peakCelsius, secondsAbove, gapSeconds };
}

/** Of a straight line from one temperature to another. */
const shareAbove = (from: number, to: number, limit: number): number => {
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  if (low > limit) return 1;
  return high <= limit ? 0 : (high - limit) / (high - low);
};

/** Time above a limit along points that are added one by one, as `heatSince` counts it. */
export interface TimeAbove {
  readonly limitCelsius: number;
  /** What is before it does not count. */
  readonly since: number;
  at: number;
  /** Null before the first point. */
  celsius: number | null;
  readings: number;
  seconds: number;
}

/** @param start when the pattern was made; until the first point it lay as that says */
export const startTimeAbove = (start: number, since: number, limitCelsius: number): TimeAbove => ({
  limitCelsius,
  since,
  at: start,
  celsius: null,
  readings: 0,
  seconds: 0,
});

/** Takes in the next point; one that is not newer than the one before is left out. */
export function advanceTimeAbove(above: TimeAbove, { at, celsius, atMostCelsius }: CoursePoint): void {
  above.celsius ??= celsius;
  if (!isTemperature(celsius) || !Number.isFinite(at) || at < above.at) return;
  if (above.readings > 0 && at === above.at) return;
  if (at > above.since && atMostCelsius === undefined) {
    const before = { at: above.at, celsius: above.celsius };
    const from = Math.max(before.at, above.since);
    const fromCelsius = from > before.at ? interpolate(before, { at, celsius }, from) : before.celsius;
    const seconds = (at - from) / MILLIS_PER_SECOND;
    above.seconds += seconds * shareAbove(fromCelsius, celsius, above.limitCelsius);
  }
  above.at = at;
  above.celsius = celsius;
  above.readings += 1;
}
