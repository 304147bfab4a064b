import { describe, expect, it } from 'vitest';
import { COOL_AUTUMN } from '../physics/outdoors.ts';
import type { GatewayTrouble, WorldProbe, ProbeTrouble, WorldPlan } from '../world/plan.ts';
import type { PlaceRecord } from '../world/record.ts';
import { arrivals } from './gateway-stream.ts';
import { probeStream } from './probe-stream.ts';

const START = Date.UTC(2026, 1, 2);
const HOUR = 3_600_000;
const MINUTE = 60_000;

const world = (troubles: readonly GatewayTrouble[] = [], jitterMillis = 0): WorldPlan => ({
  seed: 5,
  hours: { timeZone: 'UTC', days: [], from: '08:00', to: '17:00', pauses: [] },
  days: [],
  starts: START,
  ends: START + 4 * HOUR,
  climate: COOL_AUTUMN,
  stations: [],
  gateways: [{ id: 'gw', jitterMillis, troubles: [...troubles] }],
});

const probe = (troubles: readonly ProbeTrouble[] = [], more: Partial<WorldProbe> = {}): WorldProbe => ({
  id: 'p',
  where: 'in the wax',
  spot: 'wax',
  gateway: 'gw',
  seconds: 10,
  resolutionKelvin: 0.1,
  noiseKelvin: 0,
  lagSeconds: 5,
  offsetKelvin: 0,
  lostShare: 0,
  troubles: [...troubles],
  ...more,
});

const place = (station: string, celsius: number): PlaceRecord => ({
  station,
  from: START - HOUR,
  stepMillis: 2000,
  spots: { wax: new Float32Array(5 * 1800 + 1).fill(celsius) },
});
const pot = place('pot', 75);
const places = new Map([
  ['pot', pot],
  ['room', place('room', 21)],
]);
const stream = (troubles: readonly ProbeTrouble[] = [], more: Partial<WorldProbe> = {}) =>
  probeStream(world(), probe(troubles, more), pot, places, 2);
const span = { from: START + HOUR, to: START + 2 * HOUR };

describe('what a probe answers', () => {
  it('comes about every so many seconds, in steps of its resolution', () => {
    const { at, celsius, wrong } = stream([], { noiseKelvin: 0.3 });
    expect(Math.abs(at.length - 1440)).toBeLessThan(3);
    expect(Array.from(celsius).every((value) => Math.abs(value * 10 - Math.round(value * 10)) < 1e-6)).toBe(
      true,
    );
    expect(wrong).toEqual([]);
  });

  it('is the other place’s temperature while it hangs there, and is then wrong from the time that it left', () => {
    const { at, celsius, wrong } = stream([
      { kind: 'moved', ...span, station: 'room', spot: 'wax', lagFactor: 1 },
    ]);
    const value = (instant: number) => celsius[at.findIndex((time) => time > instant)];
    expect(value(span.from - MINUTE)).toBe(75);
    expect(value(span.from + 10 * MINUTE)).toBe(21);
    expect(value(span.to + 10 * MINUTE)).toBe(75);
    expect(Math.abs((wrong[0]?.since ?? 0) - span.from)).toBeLessThan(20_000);
  });

  it('drifts by so many kelvin an hour, and is wrong once that passes the limit', () => {
    const { celsius, wrong } = stream([
      { kind: 'drift', from: START, to: START + 4 * HOUR, kelvinPerHour: 1 },
    ]);
    expect(celsius.at(-1)).toBeCloseTo(79, 0);
    expect(((wrong[0]?.since ?? 0) - START) / HOUR).toBeCloseTo(2, 1);
  });

  it('stays what it was while it is stuck', () => {
    const { at, celsius } = stream([{ kind: 'stuck', ...span }], { noiseKelvin: 0.5 });
    const during = Array.from(celsius).filter((_, i) => (at[i] ?? 0) >= span.from && (at[i] ?? 0) < span.to);
    expect(new Set(during).size).toBe(1);
  });
});

describe('what arrives', () => {
  const through = (troubles: readonly GatewayTrouble[], jitter = 0) =>
    arrivals(world(troubles, jitter), [stream()]);
  const gaps = (instants: Float64Array) =>
    Math.max(...Array.from(instants.subarray(1), (at, i) => at - (instants[i] ?? 0)));

  it('arrives 0.4 s after its stamp where nothing is wrong with the way', () => {
    const { at, receivedAt } = through([]);
    expect(at.every((stamp, i) => receivedAt[i] === stamp + 400)).toBe(true);
  });

  it('is in order of arrival whatever the way does to it', () => {
    const { receivedAt } = through([{ kind: 'silent', ...span, buffers: true }], 2500);
    expect(receivedAt.every((at, i) => i === 0 || at >= (receivedAt[i - 1] ?? 0))).toBe(true);
  });

  it('is missing where a gateway was silent, or late with its own stamp where it kept its readings', () => {
    const lost = through([{ kind: 'silent', ...span, buffers: false }]);
    const buffered = through([{ kind: 'silent', ...span, buffers: true }]);
    expect(gaps(lost.at)).toBeGreaterThan(HOUR - MINUTE);
    expect(gaps(buffered.at)).toBeLessThan(MINUTE);
    expect(gaps(buffered.receivedAt)).toBeGreaterThan(HOUR - MINUTE);
  });

  it('is stamped by the gateway’s clock, ahead or behind', () => {
    const { at, receivedAt } = through([{ kind: 'clock', ...span, offsetMillis: -HOUR }]);
    const late = Array.from(at, (stamp, i) => (receivedAt[i] ?? 0) - 400 - stamp);
    expect(new Set(late)).toEqual(new Set([0, HOUR]));
  });
});
