import { describe, expect, it } from 'vitest';
import { potCase, START } from './rehearsed-case.ts';
import { withShortHistory } from './short-history.ts';

const HOUR = 3_600_000;

describe('a case with a short history', () => {
  const stuck = potCase({ sticksAtMinute: 300, unpluggedAt: 95, minutes: 400 });

  it('starts so many hours before its first fault, with the readings from then on', () => {
    const short = withShortHistory(stuck, 2);
    expect(short.starts).toBe(START + 3 * HOUR);
    expect(Math.min(...short.readings.receivedAt)).toBeGreaterThanOrEqual(short.starts);
    expect(short.readings.at).toHaveLength(short.readings.probe.length);
    expect(short.readings.celsius.at(-1)).toBe(stuck.readings.celsius.at(-1));
    expect(short.truth).toEqual(stuck.truth);
  });

  it('stays as it is where it begins later anyway, or has no fault', () => {
    expect(withShortHistory(stuck, 6)).toBe(stuck);
    const inOrder = potCase({ sticksAtMinute: null, unpluggedAt: 95, minutes: 60 });
    expect(withShortHistory(inOrder, 0)).toBe(inOrder);
  });
});
