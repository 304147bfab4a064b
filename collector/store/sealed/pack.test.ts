import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { DamagedReadings } from './damaged-readings.ts';
import { combineHours, decodeHours, encodeHours, hourFigures } from './hour-figures.ts';
import {
  decodeColumn,
  decodeMember,
  encodePack,
  type Pack,
  type PackPart,
  type PackSeries,
  packWithout,
  readDirectory,
} from './pack.ts';
import { mergeRows, type SeriesRows } from './series-rows.ts';

const START = Date.UTC(2026, 2, 2, 6);

const bytesOf = ({ body }: Pack, { offset, length }: PackPart): Uint8Array =>
  body.subarray(offset, offset + length);

function decodePack(pack: Pack): PackSeries[] {
  const { columns, members } = readDirectory(pack.directory);
  const times = columns.map((part) => decodeColumn(bytesOf(pack, part), part));
  return members.map((member) => ({
    series: member.series,
    ...decodeMember(bytesOf(pack, member), member, times[member.column] ?? new Float64Array()),
  }));
}

/** Values as probes give them: on a grid, corrected off it, or no temperature at all. */
const aValue = fc.oneof(
  fc.integer({ min: -880, max: 6000 }).map((steps) => steps / 16),
  fc.integer({ min: -5500, max: 40_000 }).map((tenths) => tenths / 10),
  fc.integer({ min: 0, max: 40 }).map((steps) => (20 + steps / 16) * 1.0013 - 0.21),
  fc.double({ min: -273.15, max: 1.7e308, noNaN: true }).map((value) => value + 0),
);
const someRows = (at: fc.Arbitrary<number>): fc.Arbitrary<SeriesRows> =>
  fc
    .uniqueArray(fc.tuple(at, aValue, fc.integer({ min: 0, max: 2 })), {
      minLength: 1,
      maxLength: 80,
      selector: ([time]) => time,
    })
    .map((rows) => {
      const sorted = rows.sort(([first], [second]) => first - second);
      return {
        times: Float64Array.from(sorted, ([time]) => time),
        values: Float64Array.from(sorted, ([, value]) => value),
        qualities: Uint8Array.from(sorted, ([, , quality]) => quality),
      };
    });
const anywhere = fc.integer({ min: 0, max: 4e12 });
const onABeat = fc.integer({ min: 0, max: 200 }).map((beat) => START + beat * 5000 + ((beat * 37) % 200));
const numbered = (all: readonly SeriesRows[]): PackSeries[] =>
  all.map((rows, index) => ({ ...rows, series: index + 7 }));

describe('a pack', () => {
  it('gives back every reading bit for bit, whatever its instants, values and qualities', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.oneof(someRows(anywhere), someRows(onABeat)), { minLength: 1, maxLength: 4 }),
        async (all) => {
          const series = numbered(all);
          expect(decodePack(await encodePack(series))).toEqual(series);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('holds the instants once for probes of one gateway, of which each lost other readings', async () => {
    const beats = Array.from({ length: 500 }, (_, beat) => START + beat * 5000 + ((beat * beat) % 199));
    const series = [3, 5, 7].map((lost, index) => {
      const times = Float64Array.from(beats.filter((_, beat) => beat % lost !== 0));
      return { series: index, times, values: times.map(() => 21), qualities: new Uint8Array(times.length) };
    });
    const pack = await encodePack(series);
    expect(readDirectory(pack.directory).columns).toHaveLength(1);
    expect(decodePack(pack)).toEqual(series);
  });

  it('leaves the other series as they were when one is taken out, and is nothing without all of them', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(someRows(anywhere), { minLength: 2, maxLength: 5 }),
        fc.nat(),
        async (all, which) => {
          const series = numbered(all);
          const pack = await encodePack(series);
          const leaving = 7 + (which % series.length);
          const rest = packWithout(pack, new Set([leaving]));
          expect(rest === null ? [] : decodePack(rest)).toEqual(
            series.filter(({ series: id }) => id !== leaving),
          );
          expect(packWithout(pack, new Set(series.map(({ series: id }) => id)))).toBeNull();
        },
      ),
      { numRuns: 20 },
    );
  });

  it('is refused where a byte of a series changed', async () => {
    const pack = await encodePack(
      numbered([fc.sample(someRows(onABeat), { numRuns: 1, seed: 5 })[0] as SeriesRows]),
    );
    const [member] = readDirectory(pack.directory).members;
    if (member === undefined) throw new Error('the pack is empty');
    const damaged = Uint8Array.from(bytesOf(pack, member));
    damaged[3] = (damaged[3] ?? 0) ^ 1;
    expect(() => decodeMember(damaged, member, new Float64Array())).toThrow(DamagedReadings);
  });

  it('is read where it is of an earlier version, whose directory ended without a checksum', async () => {
    const { directory } = await encodePack(
      numbered([fc.sample(someRows(onABeat), { numRuns: 1, seed: 5 })[0] as SeriesRows]),
    );
    // Of a number all bytes but the last have their highest bit set.
    let checksumAt = directory.length - 1;
    while ((directory[checksumAt - 1] ?? 0) >= 128) checksumAt -= 1;
    const earlier = directory.subarray(0, checksumAt);
    expect(readDirectory(earlier)).toEqual(readDirectory(directory));
    expect(() => readDirectory(directory.subarray(0, -1))).toThrow();
  });
});

describe('the figures of hours', () => {
  it('are read back as they were written', () => {
    fc.assert(
      fc.property(someRows(anywhere), (rows) => {
        const hours = hourFigures(rows);
        expect(decodeHours(encodeHours(hours))).toEqual(hours);
      }),
    );
  });

  it('count every reading once and hold every extreme', () => {
    fc.assert(
      fc.property(someRows(fc.integer({ min: START, max: START + 9 * MILLIS_PER_HOUR })), (rows) => {
        const hours = hourFigures(rows);
        expect(hours.reduce((sum, { count }) => sum + count, 0)).toBe(rows.times.length);
        expect(Math.max(...hours.map(({ max }) => max))).toBe(Math.max(...rows.values));
        expect(Math.min(...hours.map(({ min }) => min))).toBe(Math.min(...rows.values));
      }),
    );
  });

  it('of two parts of a span add up to those of the whole', () => {
    const rows = (from: number): SeriesRows => ({
      times: Float64Array.of(START + from, START + from + MILLIS_PER_HOUR),
      values: Float64Array.of(from / 1000, 21),
      qualities: Uint8Array.of(0, 1),
    });
    const [earlier, later] = [rows(1000), rows(2000)];
    const whole = hourFigures(mergeRows(earlier, later));
    const parts = combineHours(hourFigures(earlier), hourFigures(later));
    expect(parts.map(({ first, last, ...hour }) => hour)).toEqual(
      whole.map(({ first, last, ...hour }) => hour),
    );
  });
});
