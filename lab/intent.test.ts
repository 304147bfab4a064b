// When each intent ends by itself, in the lab's own time.

import { describe, expect, it } from 'vitest';
import { labOf } from '../tests/rehearsal.ts';
import { epochMillis } from '../wax/units.ts';
import { intentUntil } from './intent.ts';
import type { IntentKind } from './intent-kind.ts';

const { site } = labOf([], []);
const at = (text: string) => epochMillis(Date.parse(text));
const until = (kind: IntentKind, now: string, asked: string | null = null) => {
  const end = intentUntil(kind, site, at(now), asked === null ? null : at(asked));
  return end === null ? null : new Date(end).toISOString();
};

describe('an intent', () => {
  it.each<[IntentKind, string, string]>([
    // Berlin: an hour ahead of UTC in winter.
    ['off-today', '2026-03-04T14:00:00Z', '2026-03-04T23:00:00.000Z'],
    ['off-today', '2026-03-28T22:59:00Z', '2026-03-28T23:00:00.000Z'],
    ['off-today', '2026-03-29T12:00:00Z', '2026-03-29T22:00:00.000Z'],
    ['leave-on-overnight', '2026-03-04T16:30:00Z', '2026-03-05T07:00:00.000Z'],
    ['leave-on-overnight', '2026-03-06T19:00:00Z', '2026-03-09T07:00:00.000Z'],
    ['topping-up', '2026-03-04T14:00:00Z', '2026-03-04T14:30:00.000Z'],
    ['cleaning', '2026-03-04T14:00:00Z', '2026-03-04T15:30:00.000Z'],
    ['probe-out', '2026-03-04T14:00:00Z', '2026-03-04T18:00:00.000Z'],
  ])('%s from %s ends at %s', (kind, now, end) => {
    expect(until(kind, now)).toBe(end);
  });

  it('over the night does not end after the lunch of the same day', () => {
    const hours = [
      ['08:00', '12:00'],
      ['13:00', '18:00'],
    ] as const;
    const withLunch = { ...site, workingHours: { ...site.workingHours, wed: hours, thu: hours } };
    const from = (now: string) => intentUntil('leave-on-overnight', withLunch, at(now), null);
    const thursday = at('2026-03-05T07:00:00Z');
    expect(['09:00', '11:30', '16:30', '22:00'].map((clock) => from(`2026-03-04T${clock}:00Z`))).toEqual(
      Array(4).fill(thursday),
    );
  });

  it.each<IntentKind>(['preheat-at', 'staying-late-until'])(
    '%s ends at the time that is given, which must come and not be too far off',
    (kind) => {
      const now = '2026-03-04T16:00:00Z';
      expect(until(kind, now, '2026-03-04T21:00:00Z')).toBe('2026-03-04T21:00:00.000Z');
      expect(until(kind, now, '2026-03-06T04:00:00Z')).toBe('2026-03-06T04:00:00.000Z');
      expect(until(kind, now, '2026-03-06T04:00:01Z')).toBeNull();
      expect(until(kind, now, now)).toBeNull();
      expect(until(kind, now)).toBeNull();
    },
  );
});
