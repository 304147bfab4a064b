import { describe, expect, it } from 'vitest';
import { type BelowWindow, belowWindowStep, isKnownBelow } from './below-window.ts';

const DAY = 86_400_000;
const called = belowWindowStep(undefined, DAY, 68, true) ?? null;
const following = (before: BelowWindow | null, at: number, celsius: number, isAnnounced: boolean) =>
  belowWindowStep(before ?? undefined, at, celsius, isAnnounced) ?? null;

describe('how far a heater is known to sink below its window', () => {
  it('is known once people were called for it, up to a kelvin further', () => {
    expect(following(null, DAY, 68, false)).toBeNull();
    expect(isKnownBelow(null, DAY, 68)).toBe(false);
    expect(isKnownBelow(called, 2 * DAY, 67.1)).toBe(true);
    expect(isKnownBelow(called, 2 * DAY, 66.9)).toBe(false);
  });
  it('goes as far as it went while people had been called, and no further unseen', () => {
    expect(isKnownBelow(following(called, 2 * DAY, 65, true), 3 * DAY, 65)).toBe(true);
    expect(isKnownBelow(following(called, 2 * DAY, 65, false), 3 * DAY, 65)).toBe(false);
  });
  it('is forgotten after more than a week without it, and lasts while it comes back', () => {
    expect(isKnownBelow(called, 10 * DAY, 68)).toBe(false);
    expect(isKnownBelow(following(called, 7 * DAY, 69, false), 10 * DAY, 68)).toBe(true);
    expect(following(called, 12 * DAY, 69, false)).toBeNull();
  });
});
