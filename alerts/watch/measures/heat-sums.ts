// What the temperatures of a pattern add up to: mean kinetic temperature, swings, minutes too warm. Sums over all points
// of a course go on from those over its first ones, because a pattern that lies for days has hundreds of points and a
// verdict every ten minutes. Nothing of it is stored: it changes no outcome, and after a start all is summed once.

import {
  mktAdvance,
  mktStart,
  type MktState,
  mktValue,
  runningMkt,
} from '../../../wax/heat/mean-kinetic-temperature.ts';
import {
  rainflowAdvance,
  rainflowResidue,
  rainflowStart,
  type RainflowState,
  runningRainflow,
} from '../../../wax/numbers/rainflow.ts';
import {
  advanceTimeAbove,
  type CoursePoint,
  startTimeAbove,
  type TimeAbove,
} from '../../../wax/relaxation/relaxation.ts';
import type { Seconds } from '../../../wax/units.ts';
import {
  type CarriedHeat,
  coursePoint,
  type HeatPoint,
  isNewer,
  LONGEST_GAP_MILLIS,
  type NewestReading,
} from './pattern-heat.ts';

/** A smaller range is the heating's hum and not a swing. Common practice. */
const LEAST_SWING = 1;

export interface HeatSums {
  readonly meanKineticCelsius: number | null;
  readonly swings: number;
  readonly largestSwingCelsius: number;
  readonly minutesTooWarm: number;
}

/** Of which pattern the sums are; they begin anew when one of it changes. */
interface Summed {
  readonly madeAt: number;
  readonly storageMax: number;
  readonly carried: CarriedHeat | null;
}

class RunningSums {
  readonly #mkt: ReturnType<typeof runningMkt>;
  readonly #rainflow: ReturnType<typeof runningRainflow>;
  readonly #above: TimeAbove;
  #swings: number;
  #largestSwing: number;

  constructor(
    mkt: MktState,
    rainflow: RainflowState,
    above: TimeAbove,
    swings: number,
    largestSwing: number,
  ) {
    this.#mkt = runningMkt(mkt);
    this.#rainflow = runningRainflow(rainflow);
    this.#above = { ...above };
    this.#swings = swings;
    this.#largestSwing = largestSwing;
  }

  static start({ carried, madeAt, storageMax }: Summed): RunningSums {
    return new RunningSums(
      carried?.mkt ?? mktStart({ longestGap: (LONGEST_GAP_MILLIS / 1000) as Seconds }),
      carried?.rainflow ?? rainflowStart(),
      startTimeAbove(madeAt, carried?.relaxation.at ?? madeAt, storageMax),
      carried?.swings ?? 0,
      carried?.largestSwing ?? 0,
    );
  }

  copy(): RunningSums {
    return new RunningSums(this.#mkt, this.#rainflow, this.#above, this.#swings, this.#largestSwing);
  }

  readonly #count = (from: number, to: number, count: number): void => {
    const range = Math.abs(to - from);
    if (range < LEAST_SWING) return;
    this.#swings += count;
    this.#largestSwing = Math.max(this.#largestSwing, range);
  };

  add(point: CoursePoint): void {
    mktAdvance(this.#mkt, point.at, point.celsius);
    rainflowAdvance(this.#rainflow, point.celsius, this.#count);
    advanceTimeAbove(this.#above, point);
  }

  sums(carried: CarriedHeat | null): HeatSums {
    // The greatest swing of a history stays open until a greater one closes it.
    let [swings, largestSwingCelsius] = [this.#swings, this.#largestSwing];
    for (const { count, range } of rainflowResidue(this.#rainflow))
      if (range >= LEAST_SWING) {
        swings += count;
        largestSwingCelsius = Math.max(largestSwingCelsius, range);
      }
    return {
      meanKineticCelsius: mktValue(this.#mkt),
      swings,
      largestSwingCelsius,
      minutesTooWarm: (carried?.minutesTooWarm ?? 0) + this.#above.seconds / 60,
    };
  }
}

interface SummedSoFar {
  readonly of: Summed;
  readonly sums: RunningSums;
  /** How many points are summed, and the last of them. */
  count: number;
  last: HeatPoint;
}

/**
 * By the first point of the course, which stays when it is thinned. A point that is the same object at the same place in its
 * course has the same points before it: they are only ever added at the end, and left out when a course is thinned or cut.
 */
const summedSoFar = new WeakMap<HeatPoint, SummedSoFar>();

const isSame = (a: Summed, b: Summed): boolean =>
  a.madeAt === b.madeAt && a.storageMax === b.storageMax && a.carried === b.carried;

/** Sums over the first points of a course. */
function sumsOfFirst(points: readonly HeatPoint[], count: number, of: Summed): RunningSums {
  const [first, last] = [points[0], points[count - 1]];
  if (first === undefined || last === undefined) return RunningSums.start(of);
  const before = summedSoFar.get(first);
  const goesOn =
    before !== undefined &&
    before.count <= count &&
    points[before.count - 1] === before.last &&
    isSame(before.of, of);
  const soFar = goesOn ? before : { of, sums: RunningSums.start(of), count: 0, last };
  for (const point of points.slice(soFar.count, count)) if (point[0] > 0) soFar.sums.add(coursePoint(point));
  soFar.count = count;
  soFar.last = last;
  summedSoFar.set(first, soFar);
  return soFar.sums;
}

/** Of the points up to an instant, and of the newest reading where it is of that time. */
export function heatSums(
  points: readonly HeatPoint[],
  last: NewestReading,
  until: number,
  of: Summed,
): HeatSums {
  let count = points.length;
  while (count > 0 && (points[count - 1]?.[0] ?? 0) > until) count -= 1;
  const sums = sumsOfFirst(points, count, of);
  if (!isNewer(last, points.at(-1)) || last.at <= 0 || last.at > until) return sums.sums(of.carried);
  const whole = sums.copy();
  whole.add(coursePoint([last.at, last.celsius]));
  return whole.sums(of.carried);
}
