// What a case of each fault is made of is tried where the watch sees it, by tests/faultbench/each-fault.test.ts.

import { describe, expect, it } from 'vitest';
import { expectSound, readingsOf } from '../../tests/sound-case.ts';
import { DAY } from '../days/calendar.ts';
import type { LabelledCase } from './case.ts';
import { makeCase, NORMAL_NAMES } from './make-case.ts';

const LONG = 120_000;

describe('an ordinary week', () => {
  it.each(NORMAL_NAMES.map((kind, index) => [kind, 100 + index] as const))(
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
