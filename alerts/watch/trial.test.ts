import { describe, expect, it } from 'vitest';
import type { Lab } from '../../lab/lab.ts';
import type { Reading } from '../../lab/reading.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { potLab, START } from '../../tests/rehearsal.ts';
import { type Change, trialInSlices } from './trial.ts';

const trial = (past: readonly Reading[], lab: Lab, change: Change) => {
  const work = trialInSlices(past, lab, change);
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
  }
};

/** Eleven humps an hour apart: three to 104 °C, eight to 101 °C. */
const readings: readonly Reading[] = Array.from({ length: 11 * 60 }, (_, minute) => {
  const top = Math.floor(minute / 60) % 4 === 0 ? 104 : 101;
  const height = minute % 60 < 10 ? top : 90;
  return { probe: 'p1', at: epochMillis(START + minute * 60_000), celsius: celsius(height), quality: 'good' };
});

describe('what another figure would have raised', () => {
  it('is counted on the same readings: 3 instead of 11', () => {
    const hotter = readings.map((one) => ({
      ...one,
      celsius: celsius(one.celsius === 90 ? 90 : one.celsius + 52),
    }));
    const change = { station: 'pot-1', rule: 'fire-risk' as const, values: { limit_celsius: 155 } };
    expect(trial(hotter, potLab(), change)).toMatchObject({ before: 11, after: 3 });
  });

  it('gives the instants, and does not ask for the readings in order', () => {
    const change = { station: 'pot-1', rule: 'over-ceiling' as const, values: { on_delay_seconds: 60 } };
    const { beginnings } = trial([...readings].reverse(), potLab(), change);
    expect(beginnings).toHaveLength(11);
    expect(beginnings[0]).toBe(START + 60_000);
  });

  it('leaves the readings of other stations out', () => {
    const change = { station: 'pot-2', rule: 'over-ceiling' as const, values: {} };
    expect(trial(readings, potLab(), change)).toEqual({ before: 0, after: 0, beginnings: [] });
  });
});
