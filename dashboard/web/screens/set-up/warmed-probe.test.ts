import { describe, expect, it } from 'vitest';
import type { ProbeView } from '../../../api/schemas.ts';
import { rise, type Traces, traceLine, tracesWith, findWarmedProbe } from './warmed-probe.ts';

const START = Date.UTC(2031, 1, 3, 8);
const probe = (id: string, second: number, celsius: number | null): ProbeView => ({
  id,
  gateway: 'gw',
  station: null,
  claimed: false,
  retired: false,
  celsius,
  at: celsius === null ? null : new Date(START + second * 1000).toISOString(),
  quality: 'good',
  firstSeen: null,
  gatewayOnline: true,
  electrical: null,
  status: null,
});
const traced = (...steps: readonly (readonly ProbeView[])[]): Traces =>
  steps.reduce<Traces>(tracesWith, new Map());

describe('a probe in a warm hand', () => {
  it('is the one that rose most, by a kelvin or more', () => {
    const traces = traced([probe('a', 0, 21), probe('b', 0, 21)], [probe('a', 10, 21.2), probe('b', 10, 24)]);
    expect(findWarmedProbe(traces)).toBe('b');
  });

  it.each([
    ['under a kelvin', 21.9, null],
    ['of a kelvin', 22, 'a'],
  ] as const)('shows with a rise %s', (_, celsius, id) => {
    expect(findWarmedProbe(traced([probe('a', 0, 21)], [probe('a', 10, celsius)]))).toBe(id);
  });

  it('no longer shows once it has been warm for three minutes', () => {
    const traces = traced([probe('a', 0, 21)], [probe('a', 10, 30)], [probe('a', 200, 30)]);
    expect(findWarmedProbe(traces)).toBeNull();
  });

  it('is not guessed from a first value, from the same value again or from none', () => {
    const traces = traced([probe('a', 0, 21), probe('b', 0, null)], [probe('a', 0, 21), probe('b', 0, null)]);
    expect(rise(traces.get('a') ?? [])).toBeNull();
    expect(findWarmedProbe(traces)).toBeNull();
  });
});

it('the trace of a still probe is a level line that ends at now', () => {
  const points = [
    { at: START, celsius: 21 },
    { at: START + 90_000, celsius: 21 },
  ];
  expect(traceLine(points, START + 90_000)).toBe('50.0,19.0 100.0,19.0');
});
