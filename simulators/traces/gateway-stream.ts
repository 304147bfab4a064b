// The way from probes to the lab's computer: gateways stamp readings by their own clocks, hold them back or lose them,
// and the lab's computer sees them in order of arrival.

import { drawFrom } from '../draw/draw.ts';
import type { GatewayPlan, WorldPlan } from '../world/plan.ts';
import type { ProbeStream } from './probe-stream.ts';

/** Instants in epoch milliseconds, in order of arrival; `probe` counts the streams. */
export interface Arrivals {
  readonly at: Float64Array;
  readonly receivedAt: Float64Array;
  readonly probe: Uint16Array;
  readonly celsius: Float64Array;
}

const WAY_MILLIS = 400;
/** Between two readings of a backlog. */
const BACKLOG_MILLIS = 15;

const passReadings = (
  world: WorldPlan,
  gateway: GatewayPlan,
  stream: ProbeStream,
  index: number,
): Arrivals => {
  const draw = drawFrom(world.seed, `way/${stream.probe}`);
  const length = stream.at.length;
  const at = new Float64Array(length);
  const receivedAt = new Float64Array(length);
  const probe = new Uint16Array(length).fill(index);
  const celsius = new Float64Array(length);
  let count = 0;
  let before = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < length; i += 1) {
    const instant = stream.at[i] ?? 0;
    let stamp = instant;
    let received = instant + WAY_MILLIS;
    if (gateway.jitterMillis > 0) received += Math.round(draw.source() ** 3 * gateway.jitterMillis);
    let isLost = false;
    for (const trouble of gateway.troubles) {
      if (instant < trouble.from || instant >= trouble.to) continue;
      if (trouble.kind === 'clock') stamp += trouble.offsetMillis;
      else if (trouble.buffers) received = Math.max(received, trouble.to + WAY_MILLIS);
      else isLost = true;
    }
    if (isLost) continue;
    // Within one probe's stream order is kept.
    received = received <= before ? before + BACKLOG_MILLIS : received;
    if (received >= world.ends) break;
    before = received;
    at[count] = Math.round(stamp);
    receivedAt[count] = Math.round(received);
    celsius[count] = stream.celsius[i] ?? 0;
    count += 1;
  }
  return {
    at: at.subarray(0, count),
    receivedAt: receivedAt.subarray(0, count),
    probe: probe.subarray(0, count),
    celsius: celsius.subarray(0, count),
  };
};

export const arrivals = (world: WorldPlan, streams: readonly ProbeStream[]): Arrivals => {
  const gateways = new Map(world.gateways.map((gateway) => [gateway.id, gateway]));
  const parts = streams.flatMap((stream, index) => {
    const gateway = gateways.get(stream.gateway);
    return gateway === undefined ? [] : [passReadings(world, gateway, stream, index)];
  });
  const total = parts.reduce((sum, { at }) => sum + at.length, 0);
  const merged = {
    at: new Float64Array(total),
    receivedAt: new Float64Array(total),
    probe: new Uint16Array(total),
    celsius: new Float64Array(total),
  };
  const heads = parts.map(() => 0);
  const due = Float64Array.from(parts, ({ receivedAt }) => receivedAt[0] ?? Number.POSITIVE_INFINITY);
  for (let out = 0; out < total; out += 1) {
    let first = 0;
    for (let p = 1; p < due.length; p += 1) if ((due[p] ?? 0) < (due[first] ?? 0)) first = p;
    const part = parts[first];
    const head = heads[first] ?? 0;
    if (part === undefined) break;
    merged.at[out] = part.at[head] ?? 0;
    merged.receivedAt[out] = part.receivedAt[head] ?? 0;
    merged.probe[out] = part.probe[head] ?? 0;
    merged.celsius[out] = part.celsius[head] ?? 0;
    heads[first] = head + 1;
    due[first] = part.receivedAt[head + 1] ?? Number.POSITIVE_INFINITY;
  }
  return merged;
};
