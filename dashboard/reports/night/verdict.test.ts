import { describe, expect, it } from 'vitest';
import type { SeriesBucket } from '../../../collector/store/store.ts';
import { epochMillis } from '../../../wax/units.ts';
import { heatFigures } from './heat-figures.ts';
import { type VerdictReason, judge, nightReasons, saySinceWhen } from './verdict.ts';

const MINUTE = 60_000;
const START = Date.parse('2026-11-24T16:30:00Z');
/** One bucket a minute. */
const course = (values: readonly (number | null)[]): readonly SeriesBucket[] =>
  values.flatMap((mean, index) =>
    mean === null
      ? []
      : [{ at: epochMillis(START + index * MINUTE), min: mean, max: mean, mean, count: 2, doubtful: 0 }],
  );
const figures = (values: readonly (number | null)[], storageMax = 25) =>
  heatFigures(
    {
      buckets: course(values),
      widthMillis: MINUTE,
      from: epochMillis(START),
      to: epochMillis(START + values.length * MINUTE),
    },
    () => storageMax,
  );
const steady = (minutes: number, value = 20): number[] => Array.from({ length: minutes }, () => value);
const LIMITS = { storageMax: 25, meltsFrom: 45, largestSwing: 4 };
const WELL: VerdictReason = { verdict: 'may-be-invested', code: 'kept-well', values: {} };
const verdict = (values: readonly (number | null)[]) =>
  judge(nightReasons(figures(values), LIMITS), WELL, () => '');
const codes = (values: readonly (number | null)[]) => verdict(values).reasons.map(({ code }) => code);

describe('the figures of a night', () => {
  it('are those of a steady night: nothing swings, nothing is missing, the kinetic mean is the temperature', () => {
    const { meanKineticCelsius, ...rest } = figures(steady(840));
    expect(meanKineticCelsius).toBeCloseTo(20, 9);
    expect(rest).toMatchObject({ minCelsius: 20, maxCelsius: 20, swings: 0, gapMinutes: 0, readings: 1680 });
  });
  it('count one swing there and back as one cycle of its range', () => {
    const { swings, largestSwingCelsius } = figures([...steady(60), ...steady(60, 23), ...steady(60)]);
    expect(swings).toBe(1);
    expect(largestSwingCelsius).toBe(3);
  });
  it('leave the hum of the heating out of the swings', () => {
    const hum = Array.from({ length: 300 }, (_, index) => (index % 2 === 0 ? 20 : 20.9));
    expect(figures(hum).swings).toBe(0);
  });
  it.each([
    [15, 0],
    [16, 16],
  ])('take %d minutes without a reading for %d minutes of gap', (missing, gap) => {
    const holed = [...steady(60), ...Array.from({ length: missing }, () => null), ...steady(60)];
    expect(figures(holed).gapMinutes).toBe(gap);
  });
  it('find the gap before the first reading and after the last', () => {
    const late = [
      ...Array.from({ length: 40 }, () => null),
      ...steady(60),
      ...Array.from({ length: 50 }, () => null),
    ];
    expect(figures(late).gaps.map(({ minutes }) => minutes)).toEqual([40, 50]);
  });
  it('count warm minutes alike, however seldom the probe is read', () => {
    const seldom = [...steady(100), ...steady(40, 26), ...steady(100)].map((value, index) =>
      index % 5 === 0 ? value : null,
    );
    expect(figures(seldom).minutesOutOfBand).toBe(40);
    expect(figures([...steady(100), ...steady(40, 26), ...steady(100)]).minutesOutOfBand).toBe(40);
  });
  it('of a night without a reading are no numbers, and the whole of it is a gap', () => {
    const none = Array.from({ length: 840 }, () => null);
    expect(figures(none)).toMatchObject({
      minCelsius: null,
      maxCelsius: null,
      meanKineticCelsius: null,
      gapMinutes: 840,
    });
  });
});

describe('the verdict of a place', () => {
  it.each([
    ['a steady night', steady(840), ['kept-well'], 'may-be-invested'],
    ['nine warm minutes', [...steady(800), ...steady(9, 25.1)], ['swing'], 'check'],
    ['ten warm minutes', [...steady(800, 22), ...steady(10, 25.1)], ['too-warm'], 'check'],
    ['a swing of the limit', [...steady(400), ...steady(400, 24)], ['kept-well'], 'may-be-invested'],
    ['a swing over it', [...steady(400), ...steady(400, 24.1)], ['swing'], 'check'],
    ['heat that melts', [...steady(400, 44), ...steady(5, 45)], ['softened', 'too-warm'], 'check'],
    ['no reading', [null, null], ['no-readings'], 'check'],
  ])('after %s', (_, values, expected, word) => {
    expect(codes(values)).toEqual(expected);
    expect(verdict(values).verdict).toBe(word);
  });
  it('advises a look after more than half an hour without readings', () => {
    const holed = (missing: number) => [
      ...steady(60),
      ...Array.from({ length: missing }, () => null),
      ...steady(60),
    ];
    expect(codes(holed(30))).toEqual(['kept-well']);
    expect(codes(holed(31))).toEqual(['gap']);
  });
  it('shows since when it was measured only where all that is missing is its beginning', () => {
    const say = (key: string) => key;
    const said = (values: readonly (number | null)[]) =>
      saySinceWhen(
        judge(nightReasons(figures(values), LIMITS), WELL, say).reasons,
        figures(values),
        START,
        say,
      );
    const missing = Array.from({ length: 60 }, () => null);
    expect(said([...missing, ...steady(60)])).toEqual([
      { code: 'gap', values: { gap_minutes: 60 }, text: 'reason.measured-since' },
    ]);
    const inTheMiddle = [...steady(60), ...missing, ...steady(60)];
    for (const values of [inTheMiddle, [...missing, ...inTheMiddle], [...steady(60), ...missing]])
      expect(said(values)).toMatchObject([{ code: 'gap', text: 'reason.gap' }]);
  });
});
