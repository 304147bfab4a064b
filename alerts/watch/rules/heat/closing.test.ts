import { describe, expect, it } from 'vitest';
import type { WorkingHours } from '../../../../lab/lab.ts';
import { labOf, dipPot, probeOf, readingOf, START } from '../../../../tests/rehearsal.ts';
import { waxWatch } from '../../wax-watch.ts';

const HOUR = 3600;
const SWITCHED_OFF = 6 * HOUR;
const opening = new Date(START).toLocaleTimeString('en-GB', { timeZone: 'Europe/Berlin' }).slice(0, 5);
/** So many minutes after the start. */
const clockAfter = (minutes: number): string =>
  new Date(START + minutes * 60_000).toLocaleTimeString('en-GB', { timeZone: 'Europe/Berlin' }).slice(0, 5);

/** Half an hour of a pot without heat that cycled for six hours; then the lab closes. */
const raisedBefore = (day: readonly (readonly [string, string])[]): readonly string[] => {
  const base = labOf([dipPot], [probeOf('p1', 'pot-1')]);
  const workingHours: WorkingHours = {
    ...base.site.workingHours,
    mon: day,
    tue: day,
    wed: day,
    thu: day,
    fri: day,
  };
  const entries = [];
  for (let second = 0; second <= SWITCHED_OFF + HOUR / 2; second += 10) {
    const cycling = 90 + 2 * (1 - 4 * Math.abs(((second / 400) % 1) - 0.5));
    const falling = 88 - (second - SWITCHED_OFF) / 120;
    entries.push(readingOf('p1', second, second < SWITCHED_OFF ? cycling : falling));
  }
  const { findings } = waxWatch.stepAll(waxWatch.initial(), entries, {
    ...base,
    site: { ...base.site, workingHours },
  });
  return findings.filter(({ phase }) => phase === 'begins').map(({ rule }) => rule);
};

describe('a pot that loses its heat three quarters of an hour before the lab closes', () => {
  const closes = clockAfter(SWITCHED_OFF / 60 + 45);
  it('is without heat where the lab closes for lunch', () => {
    const reopens = clockAfter(SWITCHED_OFF / 60 + 105);
    expect(
      raisedBefore([
        [opening, closes],
        [reopens, '23:00'],
      ]),
    ).toContain('no-heat');
  });
  it('is switched off where the lab closes for the day', () => {
    expect(raisedBefore([[opening, closes]])).not.toContain('no-heat');
  });
});
