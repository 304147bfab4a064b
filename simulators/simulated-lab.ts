// A simulated laboratory that publishes like a real one: first its past, faster than time, then its present.
// It knows the broker's address and the wire format, and nothing of who listens.

import type { Fault } from './faults/fault.ts';
import { pastFaults, storyFaults, storySwitchedOn } from './demo-story.ts';
import { DEMO_GATEWAYS, DEMO_PROBES, DEMO_STATIONS } from './lab/demo-lab.ts';
import { labSimulation } from './lab/lab-simulation.ts';
import type { SimulatedSite } from './lab/site-hours.ts';
import {
  type GatewayDesign,
  numberMessages,
  type SimulatedReading,
  senmlMessage,
  type WireMessage,
} from './probe/wire-format.ts';
import { connectGateway, type GatewayConnection } from './publish.ts';

export interface SimulatedLabOptions {
  /** `mqtt://`, with `user:password@` where the broker wants them. */
  readonly brokerUrl: string;
  readonly site: SimulatedSite;
  /** The clock, in milliseconds since 1970. */
  readonly now: () => number;
  readonly seed: number;
  /** Tell the demonstration's story, in the past days and from the start of the live part. */
  readonly story: boolean;
  readonly faults?: readonly Fault[];
  readonly pastDays?: number;
}

export interface PastSummary {
  readonly from: number;
  readonly to: number;
  readonly messages: number;
  readonly readings: number;
}

export interface SimulatedLab {
  /** Publishes the days before `now`; resolves when the broker has acknowledged all of it. */
  readonly past: () => Promise<PastSummary>;
  /** Publishes everything up to an instant; what `startLive` does every two seconds. */
  readonly liveUntil: (to: number) => Promise<void>;
  readonly startLive: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const DAY = 86_400_000;
/** Simulated before the first reading, so that the past does not begin with everything at one temperature. */
const SETTLING = DAY;
const silent = () => Number.POSITIVE_INFINITY;
/** A pack of the past holds so much, so that no gateway runs far ahead of another. */
const PAST_PACK = 5 * 60_000;
/** Between a probe's answers: heaters and storage, in the past and live. */
const PAST_EVERY = { heater: 30_000, storage: 60_000 };
const LIVE_EVERY = { heater: 2000, storage: 10_000 };
const LIVE_STEP = 2000;
/** What is older cannot be sent as a plain number, which is dated by its arrival. */
const FRESH = 3000;
const STORAGE = new Set(['pattern-cabinet', 'window-shelf']);

export const startSimulatedLab = (options: SimulatedLabOptions): SimulatedLab => {
  const { brokerUrl, site, seed } = options;
  const created = options.now();
  const from = created - (options.pastDays ?? 7) * DAY;
  const simulation = labSimulation({
    site,
    seed,
    from: from - SETTLING,
    stations: DEMO_STATIONS,
    probes: DEMO_PROBES,
    gateways: DEMO_GATEWAYS,
  });
  simulation.addFaults(options.faults ?? []);
  if (options.story) {
    simulation.addFaults(pastFaults(site, created));
    simulation.setSwitchedOn(created, storySwitchedOn(created));
  }
  simulation.advance(from, silent);

  const connections = new Map<string, GatewayConnection>();
  let timer: NodeJS.Timeout | null = null;
  let running: Promise<void> = Promise.resolve();
  let isLive = false;

  const connect = async (gateway: string): Promise<GatewayConnection> => {
    const known = connections.get(gateway);
    if (known) return known;
    const made = await connectGateway(brokerUrl, site.id, gateway);
    connections.set(gateway, made);
    return made;
  };

  const ofGateway = (gateway: GatewayDesign, readings: readonly SimulatedReading[]) =>
    readings.filter(({ probe }) => gateway.probes.includes(probe));

  const past = async (): Promise<PastSummary> => {
    // One connection carries all gateways' past, so that it arrives in the order in which it happened.
    let carrier: GatewayConnection | null = null;
    for (const { id } of DEMO_GATEWAYS) carrier = await connect(id);
    let messages = 0;
    let count = 0;
    const every = (station: string) => (STORAGE.has(station) ? PAST_EVERY.storage : PAST_EVERY.heater);
    while (simulation.now() < created - LIVE_STEP && carrier !== null) {
      const before = simulation.now();
      const readings = simulation.advance(Math.min(created, simulation.now() + PAST_PACK), every);
      for (const gateway of DEMO_GATEWAYS) {
        const own = ofGateway(gateway, readings);
        if (own.length === 0) continue;
        await carrier.publish(senmlMessage(site.id, gateway.id, own));
        messages += 1;
        count += own.length;
      }
      if (simulation.now() === before) break;
    }
    await carrier?.settled();
    return { from, to: simulation.now(), messages, readings: count };
  };

  const liveMessages = (gateway: GatewayDesign, readings: readonly SimulatedReading[], to: number) => {
    if (gateway.format === 'senml') return [senmlMessage(site.id, gateway.id, readings)];
    const old = readings.filter(({ at }) => at < to - FRESH);
    const fresh = readings.filter(({ at }) => at >= to - FRESH);
    const messages: WireMessage[] = old.length > 0 ? [senmlMessage(site.id, gateway.id, old)] : [];
    return messages.concat(numberMessages(site.id, gateway.id, fresh));
  };

  const liveUntil = async (to: number): Promise<void> => {
    if (!isLive) {
      isLive = true;
      if (options.story) simulation.addFaults(storyFaults(to));
    }
    const every = (station: string) => (STORAGE.has(station) ? LIVE_EVERY.storage : LIVE_EVERY.heater);
    const readings = simulation.advance(to, every);
    for (const gateway of DEMO_GATEWAYS) {
      if (simulation.isGatewayDead(gateway.id)) {
        await connections.get(gateway.id)?.die();
        connections.delete(gateway.id);
        continue;
      }
      const own = ofGateway(gateway, readings);
      const connection = await connect(gateway.id);
      if (own.length === 0) continue;
      for (const message of liveMessages(gateway, own, to)) await connection.publish(message);
    }
  };

  return {
    past,
    liveUntil,
    startLive: async () => {
      await liveUntil(options.now());
      timer = setInterval(() => {
        // A broker that is away must not pile up steps: the next one waits for the one before.
        running = running
          .then(() => liveUntil(options.now()))
          .catch((error: unknown) => {
            console.error(`simulated lab: ${String(error)}`);
          });
      }, LIVE_STEP);
    },
    stop: async () => {
      if (timer !== null) clearInterval(timer);
      timer = null;
      await running;
      for (const connection of connections.values()) await connection.close();
      connections.clear();
    },
  };
};
