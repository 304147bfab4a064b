import { describe, expect, it } from 'vitest';
import { DAY } from '../days/calendar.ts';
import type { LabelledCase } from './case.ts';
import { FAULT_IDS, makeCase, NORMAL_NAMES } from './make-case.ts';

const LONG = 120_000;
/** Harm is no part of these faults: nothing but the order of things is disturbed. */
const HARMLESS = ['power_cut_short', 'clock_ahead', 'clock_behind'];
const seeded = (names: readonly string[]) => names.map((name, index) => [name, 100 + index] as const);

const readingsOf = ({ probes, readings }: LabelledCase, probe: string): Float64Array => {
  const index = probes.indexOf(probe);
  return readings.celsius.filter((_, place) => readings.probe[place] === index);
};

const expectSound = (made: LabelledCase) => {
  const { at, receivedAt, celsius } = made.readings;
  expect(at.length).toBeGreaterThan(1000);
  expect(receivedAt.every((instant, i) => i === 0 || instant >= (receivedAt[i - 1] ?? 0))).toBe(true);
  expect(celsius.every(Number.isFinite)).toBe(true);
  expect(made.stations.flatMap(({ probes }) => probes.map(({ id }) => id)).sort()).toEqual(
    [...made.probes].sort(),
  );
  for (const id of made.probes) expect(readingsOf(made, id).length).toBeGreaterThan(100);
};

describe('a case of one fault', () => {
  it.each(seeded(FAULT_IDS))(
    '%s (seed %i) begins within the case, harms after it began and ends after that',
    (fault, seed) => {
      const made = makeCase(fault, seed);
      expectSound(made);
      expect(made.truth.length).toBeGreaterThan(0);
      for (const spell of made.truth) {
        const [begins, ends] = [Date.parse(spell.begins), Date.parse(spell.ends)];
        expect(spell.fault).toBe(fault);
        expect(made.stations.map(({ id }) => id)).toContain(spell.station);
        expect(begins).toBeGreaterThan(made.starts);
        expect(ends).toBeGreaterThan(begins);
        expect(ends).toBeLessThanOrEqual(made.ends);
        if (spell.harm === null) continue;
        expect(Date.parse(spell.harm)).toBeGreaterThan(begins);
        expect(Date.parse(spell.harm)).toBeLessThanOrEqual(ends);
      }
      const harmed = made.truth.filter(({ harm }) => harm !== null).length;
      if (HARMLESS.includes(fault)) expect(harmed).toBe(0);
      else if (fault !== 'power_cut_long') expect(harmed).toBeGreaterThan(0);
    },
    LONG,
  );
});

describe('an ordinary week', () => {
  it.each(seeded(NORMAL_NAMES))(
    '%s (seed %i) has no fault, and its pots stay under their ceilings',
    (kind, seed) => {
      const made = makeCase(`normal-${kind}`, seed);
      expectSound(made);
      expect(made.truth).toEqual([]);
      for (const { ceiling_celsius, probes } of made.stations)
        for (const { id } of probes)
          expect(Math.max(...readingsOf(made, id).slice(0, 50_000))).toBeLessThan(
            (ceiling_celsius ?? 999) + 1,
          );
    },
    LONG,
  );
});

describe('making a case', () => {
  it(
    'gives the same for the same seed and another for another',
    () => {
      const [made, again] = [makeCase('window_frost', 7), makeCase('window_frost', 7)];
      const bytes = ({ readings }: LabelledCase) =>
        [readings.at, readings.receivedAt, readings.celsius].map((values) => Buffer.from(values.buffer));
      expect(bytes(again).every((buffer, i) => buffer.equals(bytes(made)[i] ?? Buffer.alloc(0)))).toBe(true);
      expect([again.stations, again.truth]).toEqual([made.stations, made.truth]);
      expect(makeCase('window_frost', 8).stations).not.toEqual(made.stations);
    },
    LONG,
  );

  it(
    'lays two faults over one lab, each with its own truth',
    () => {
      const made = makeCase('stuck_on+gateway_silent', 3);
      expect(new Set(made.truth.map(({ fault }) => fault))).toEqual(new Set(['stuck_on', 'gateway_silent']));
    },
    LONG,
  );

  it(
    'puts a pot that is left on across the night on which clocks change, by some seeds',
    () => {
      const { starts, ends, truth } = makeCase('forgotten_overnight', 1);
      expect((ends - starts) % DAY).not.toBe(0);
      const [left] = truth;
      expect(new Date(left?.begins ?? 0).getUTCDay()).toBe(6);
      expect(Date.parse(left?.ends ?? '')).toBeGreaterThan(Date.parse(left?.begins ?? '') + 1.3 * DAY);
    },
    LONG,
  );

  it('refuses what is no fault and no ordinary week, and names what there is', () => {
    expect(() => makeCase('stuck', 1)).toThrow(/no fault is called stuck; there are stuck_on/);
    expect(() => makeCase('normal-stuck', 1)).toThrow(/no ordinary week is called stuck/);
  });
});
