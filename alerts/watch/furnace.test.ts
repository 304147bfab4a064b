// A burnout furnace has rules of its own for ramp, hold and its hottest; none of the wax's applies, and its probe is
// watched like any other.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { instant, labOf, probeOf, readingOf, tickAt } from '../../tests/rehearsal.ts';
import { waxWatch } from './wax-watch.ts';

const lab = labOf(
  [{ id: 'furnace', name: 'Furnace', kind: 'burnout-furnace', wax: null }],
  [probeOf('p1', 'furnace')],
);
const STEP_SECONDS = 10;
const HOUR = 3600;

/** A slow burnout: 5 K/min to 850 °C with a stay at 250 °C, then half an hour at the end temperature. */
const celsiusAt = (second: number): number => {
  const minutes = second / 60;
  if (minutes < 46) return 20 + 5 * minutes;
  if (minutes < 106) return 250;
  return Math.min(850, 250 + 5 * (minutes - 106));
};
const burnout = (): readonly Entry[] => {
  const entries: Entry[] = [];
  for (let second = 0; second <= 4.25 * HOUR; second += STEP_SECONDS)
    // The elements switch, so the value never stands still.
    entries.push(readingOf('p1', second, celsiusAt(second) + Math.sin(second / 97)), tickAt(second + 0.5));
  return entries;
};
const run = (entries: readonly Entry[]) => waxWatch.stepAll(waxWatch.initial(), entries, lab);

describe('a burnout furnace', () => {
  it('raises no alarm on its way to 850 °C and shows the temperature that it has', () => {
    const { alarmChanges, state } = run(burnout());
    expect(alarmChanges).toEqual([]);
    const [status] = waxWatch.statuses(state, lab);
    expect(status).toMatchObject({ station: 'furnace', minutesToCeiling: null, doseShare: null });
    expect(status?.celsius).toBeCloseTo(850, -1);
  });

  /** From 20 °C at so many kelvins a minute to `top`, held for so many minutes, then off. */
  const programme = (perMinute: number, top: number, holdMinutes: number): readonly Entry[] => {
    const reachedAt = ((top - 20) / perMinute) * 60;
    const offAt = reachedAt + holdMinutes * 60;
    const at = (second: number): number => {
      if (second < reachedAt) return 20 + (perMinute * second) / 60;
      return second < offAt ? top : Math.max(400, top - (6 * (second - offAt)) / 60);
    };
    return Array.from({ length: Math.ceil((offAt + 0.6 * HOUR) / 30) }, (_, index) =>
      readingOf('p1', 30 * index, at(30 * index) + Math.sin((30 * index) / 97)),
    );
  };
  const raisedIn = (entries: readonly Entry[]) => [
    ...new Set(run(entries).alarmChanges.map(({ alarm }) => alarm.rule)),
  ];

  it.each([
    { perMinute: 8, top: 700, hold: 60, raised: [] },
    { perMinute: 14, top: 700, hold: 60, raised: ['burnout-ramp'] },
    { perMinute: 8, top: 660, hold: 8, raised: ['burnout-hold'] },
    { perMinute: 8, top: 980, hold: 60, raised: ['burnout-hot'] },
  ])('at $perMinute K/min to $top °C for $hold min raises $raised', ({ perMinute, top, hold, raised }) => {
    expect(raisedIn(programme(perMinute, top, hold))).toEqual(raised);
  });

  it('takes the programme that the lab set for it', () => {
    const gypsum = labOf(
      [
        {
          id: 'furnace',
          name: 'Furnace',
          kind: 'burnout-furnace',
          wax: null,
          rules: { 'burnout-hot': { limit_celsius: 690 }, 'burnout-hold': { needed_minutes: 120 } },
        },
      ],
      [probeOf('p1', 'furnace')],
    );
    const { alarmChanges } = waxWatch.stepAll(waxWatch.initial(), programme(8, 720, 60), gypsum);
    expect(new Set(alarmChanges.map(({ alarm }) => alarm.rule))).toEqual(
      new Set(['burnout-hot', 'burnout-hold']),
    );
  });

  it('raises the alarm of a silent probe when its probe delivers no more', () => {
    const entries = burnout();
    const last = 4.25 * HOUR;
    const silence = Array.from({ length: 200 }, (_, index) => tickAt(last + 5 * (index + 1)));
    const { state } = run([...entries, ...silence]);
    expect(waxWatch.openAlarms(state)).toMatchObject([
      { rule: 'probe-silent', subject: 'p1', active: true, evidence: { newest_at: instant(last) } },
    ]);
    expect(waxWatch.statuses(state, lab)).toMatchObject([{ condition: 'no-data' }]);
  });
});
