import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../../lab/entry.ts';
import type { Lab, WorkingHours } from '../../../../lab/lab.ts';
import { every } from '../../../../tests/pot-runs.ts';
import { labOf, dipPot, probeOf, START } from '../../../../tests/rehearsal.ts';
import { waxWatch } from '../../wax-watch.ts';

const HOUR = 3600;
const SWITCHED_OFF = 6 * HOUR;
const opening = new Date(START).toLocaleTimeString('en-GB', { timeZone: 'Europe/Berlin' }).slice(0, 5);
/** So many minutes after the start. */
const clockAfter = (minutes: number): string =>
  new Date(START + minutes * 60_000).toLocaleTimeString('en-GB', { timeZone: 'Europe/Berlin' }).slice(0, 5);

/** What begins in a lab with these hours on every working day. */
const raisedIn = (
  base: Lab,
  day: readonly (readonly [string, string])[],
  entries: readonly Entry[],
): readonly string[] => {
  const workingHours: WorkingHours = {
    ...base.site.workingHours,
    mon: day,
    tue: day,
    wed: day,
    thu: day,
    fri: day,
  };
  const { findings } = waxWatch.stepAll(waxWatch.initial(), entries, {
    ...base,
    site: { ...base.site, workingHours },
  });
  return findings.filter(({ phase }) => phase === 'begins').map(({ rule }) => rule);
};

/** Half an hour of a pot without heat that cycled for six hours; then the lab closes. */
const raisedBefore = (day: readonly (readonly [string, string])[]): readonly string[] => {
  const celsiusAt = (second: number): number =>
    second < SWITCHED_OFF
      ? 90 + 2 * (1 - 4 * Math.abs(((second / 400) % 1) - 0.5))
      : 88 - (second - SWITCHED_OFF) / 120;
  const entries = every(10, 0, SWITCHED_OFF + HOUR / 2, celsiusAt);
  return raisedIn(labOf([dipPot], [probeOf('p1', 'pot-1')]), day, entries);
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

describe('an annealer whose places part in the pause', () => {
  const annealer = labOf(
    [{ ...dipPot, kind: 'annealer', wax: 'inlay-type-1', window_celsius: [45, 55], ceiling_celsius: 60 }],
    [probeOf('p1', 'pot-1'), probeOf('p2', 'pot-1')],
  );
  const parts = 4 * HOUR;
  const day = [
    [opening, clockAfter(parts / 60 - 5)],
    [clockAfter(parts / 60 + 40), '23:00'],
  ] as const;
  it.each([
    { coolsPerHour: 0, raised: true },
    { coolsPerHour: 12, raised: false },
  ])(
    'while it cools by $coolsPerHour K an hour is uneven before work goes on: $raised',
    ({ coolsPerHour, raised }) => {
      const place = (apart: number) => (second: number) => {
        const since = Math.max(0, second - parts);
        const swing = 0.5 * Math.sin(Math.min(second, parts) / 40);
        return 51 + swing - (coolsPerHour * since) / HOUR - (apart * Math.min(600, since)) / 600;
      };
      const pair = [
        ...every(20, 0, parts + HOUR / 2, place(0)),
        ...every(20, 1, parts + HOUR / 2, place(4), 'p2'),
      ].sort((a, b) => a.receivedAt - b.receivedAt);
      expect(raisedIn(annealer, day, pair).includes('uneven-annealer')).toBe(raised);
    },
  );
});
