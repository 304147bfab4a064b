import { describe, expect, it } from 'vitest';
import { meanKineticTemperatureOfSeries } from '../../../wax/heat/mean-kinetic-temperature.ts';
import { rainflow } from '../../../wax/numbers/rainflow.ts';
import { relaxationParameters, heatSince, reducedCourse } from '../../../wax/relaxation/relaxation.ts';
import { WAX_CLASSES } from '../../../wax/classes/table.ts';
import { epochMillis, seconds } from '../../../wax/units.ts';
import { heatSums } from './heat-sums.ts';
import { coursePoints, type HeatPoint, type NewestReading, withReading } from './pattern-heat.ts';

const MADE_AT = Date.parse('2031-05-05T08:00:00Z');
const MINUTE = 60_000;
const SUMMED = { madeAt: MADE_AT, storageMax: 24, carried: null };
const { rate } = relaxationParameters(WAX_CLASSES['inlay-type-2']);

/** Readings of a shelf that is warm by day, with a swing of its heating, a warm hour and gaps; never the same twice. */
function* shelf(readings: number): Generator<NewestReading> {
  let at = MADE_AT + 3 * MINUTE;
  for (let index = 0; index < readings; index += 1) {
    at += index % 97 === 96 ? 40 * MINUTE : 7 * MINUTE;
    const day = 2.5 * Math.sin((2 * Math.PI * at) / 86_400_000);
    yield { at, celsius: 22 + day + Math.sin(index * 1.7) + (index % 400 < 9 ? 4 : 0) };
  }
}

/** Each reading with the course as it is after it. */
function* courses(
  readings: number,
): Generator<{ readonly points: readonly HeatPoint[]; readonly last: NewestReading }> {
  let points: readonly HeatPoint[] = [];
  let before: NewestReading | null = null;
  for (const last of shelf(readings)) {
    points = withReading(points, before, last.at, last.celsius);
    before = last;
    yield { points, last };
  }
}

/** By the functions for whole series. */
function summedWhole(points: readonly HeatPoint[], last: NewestReading, until: number) {
  const series = coursePoints(points, last, until);
  const mkt = meanKineticTemperatureOfSeries(series, { longestGap: seconds(900) });
  const cycles = rainflow(series.map(({ celsius }) => celsius));
  if (!cycles.ok) throw new Error(cycles.problem.code);
  const swings = cycles.value.filter(({ range }) => range >= 1);
  const course = reducedCourse(epochMillis(MADE_AT), series, rate);
  if (course === null) throw new Error('no course');
  return {
    meanKineticCelsius: mkt.ok ? mkt.value.celsius : null,
    swings: swings.reduce((sum, { count }) => sum + count, 0),
    largestSwingCelsius: Math.max(0, ...swings.map(({ range }) => range)),
    minutesTooWarm: heatSince(course, MADE_AT, SUMMED.storageMax).secondsAbove / 60,
  };
}

describe('The sums over the course of a pattern', () => {
  it('that were gone on with are to the last bit those over the whole course, also after it was thinned', () => {
    let thinnings = 0;
    let length = 0;
    let compared = 0;
    for (const { last, points } of courses(3200)) {
      if (points.length < length) thinnings += 1;
      length = points.length;
      const sums = heatSums(points, last, last.at, SUMMED);
      if (compared++ % 40 !== 0) continue;
      expect(sums).toEqual(summedWhole(points, last, last.at));
    }
    expect(thinnings).toBeGreaterThan(0);
    expect(length).toBeGreaterThan(1000);
  });

  it('are those of an earlier instant when they are asked for after later ones, and go on as before', () => {
    const all = [...courses(300)];
    const newest = all.at(-1);
    if (newest === undefined) throw new Error('no course');
    const { last, points } = newest;
    const now = heatSums(points, last, last.at, SUMMED);
    for (const index of [40, 150, 151, 298]) {
      const until = points[Math.min(index, points.length - 1)]?.[0] ?? 0;
      expect(heatSums(points, last, until, SUMMED)).toEqual(summedWhole(points, last, until));
    }
    expect(heatSums(points, last, last.at, SUMMED)).toEqual(now);
  });

  it('begin anew for another limit, and for a course that was cut and goes on otherwise', () => {
    const all = [...courses(120)];
    const newest = all.at(-1);
    if (newest === undefined) throw new Error('no course');
    const { last, points } = newest;
    const { minutesTooWarm } = heatSums(points, last, last.at, SUMMED);
    const { minutesTooWarm: atHigherLimit } = heatSums(points, last, last.at, { ...SUMMED, storageMax: 25 });
    expect(atHigherLimit).toBeLessThan(minutesTooWarm);
    const end = points[60]?.[0] ?? 0;
    const cut: readonly HeatPoint[] = [...points.slice(0, 60), [end, 31], [end + 10 * MINUTE, 19]];
    const newer = { at: end + 12 * MINUTE, celsius: 20 };
    expect(heatSums(cut, newer, newer.at, SUMMED)).toEqual(summedWhole(cut, newer, newer.at));
  });
});
