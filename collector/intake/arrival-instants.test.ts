// Readings without a time of their own keep an instant each, however fast they come.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { arrivalInstants } from './arrival-instants.ts';

const NOW = Date.UTC(2026, 5, 1, 8);
const arriving = (receivedAt: number, stampedBy: 'arrival' | null = 'arrival', probe = 'pot-1'): Entry => ({
  kind: 'readings',
  receivedAt: epochMillis(receivedAt),
  gateway: 'gw',
  readings: [{ probe, at: epochMillis(receivedAt), celsius: celsius(90), quality: 'good' }],
  ...(stampedBy !== null && { stampedBy }),
});
const instants = (...entries: readonly Entry[]): readonly number[] =>
  arrivalInstants()(entries).flatMap((entry) =>
    entry.kind === 'readings' ? entry.readings.map(({ at }) => at - NOW) : [],
  );

describe('readings that are stamped by arrival', () => {
  it('get a millisecond each when they arrive within one, in their order', () => {
    const burst = [0, 0, 0, 1, 1, 30].map((after) => arriving(NOW + after));
    expect(instants(...burst)).toEqual([0, 1, 2, 3, 4, 30]);
  });

  it('of two probes do not move each other', () => {
    expect(instants(arriving(NOW), arriving(NOW, 'arrival', 'pot-2'))).toEqual([0, 0]);
  });

  it('are of their arrival again when the clock of the collector was set back', () => {
    expect(instants(arriving(NOW), arriving(NOW - 3_600_000))).toEqual([0, -3_600_000]);
  });

  it('leave alone what bears times of its own', () => {
    expect(instants(arriving(NOW, null), arriving(NOW, null))).toEqual([0, 0]);
  });
});
