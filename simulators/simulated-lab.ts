// A simulated laboratory that publishes like a real one: first its past, faster than time, then its present.
// It has the broker's address and the wire format; who listens is no matter of this file.

import type { Fault } from './faults/fault.ts';
import { pastFaults, storyFaults, storySwitchedOn } from './demo-story.ts';
import { type Fleet, fleet } from './lab/fleet.ts';
import { labSimulation } from './lab/lab-simulation.ts';
import type { SimulatedSite } from './lab/site-hours.ts';
import { messages, type PastPack } from './messages.ts';
import { connectGateway, type GatewayConnection } from './publish.ts';

export interface SimulatedLabOptions {
  /** `mqtt://`, with `user:password@` where the broker requires them. */
  readonly brokerUrl: string;
  readonly site: SimulatedSite;
  /** The clock, in milliseconds since 1970. */
  readonly now: () => number;
  readonly seed: number;
  /** Tell the demonstration's story, in the past days and from the start of the live part. */
  readonly story: boolean;
  readonly faults?: readonly Fault[];
  readonly pastDays?: number;
  /** So many times the demonstration's ten probes, for load: 100 for a thousand. */
  readonly copies?: number;
}

interface PastSummary {
  readonly from: number;
  readonly to: number;
  readonly messages: number;
  readonly readings: number;
}

export interface SimulatedLab {
  /** What publishes, for whoever must describe it to the system under test. */
  readonly fleet: Fleet;
  /** The packs of the days before `now`, oldest first, for whoever brings them in by another way than a broker. */
  readonly pastPacks: () => Iterable<PastPack>;
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
/** A fleet for load settles for less, because nobody looks at its rooms. */
const FLEET_SETTLING = DAY / 24;
const LIVE_STEP = 2000;

// One function, because past, live steps and stop share the connections and the flags that keep them in order.
export const startSimulatedLab = (options: SimulatedLabOptions): SimulatedLab => {
  const { brokerUrl, site, seed } = options;
  const created = options.now();
  const from = created - (options.pastDays ?? 7) * DAY;
  const copies = options.copies ?? 1;
  const published = fleet(copies);
  const { gateways } = published;
  const simulation = labSimulation({
    ...published,
    site,
    seed,
    from: from - (copies === 1 ? SETTLING : FLEET_SETTLING),
  });
  const words = messages(site.id, published, simulation);
  simulation.addFaults(options.faults ?? []);
  if (options.story) {
    simulation.addFaults(pastFaults(site, created));
    simulation.setSwitchedOn(created, storySwitchedOn(created));
  }
  simulation.advance(from, () => Number.POSITIVE_INFINITY);

  const connections = new Map<string, GatewayConnection>();
  let timer: NodeJS.Timeout | null = null;
  /** A broker that is away must not pile up steps: none begins while one is under way. */
  let running: Promise<void> | null = null;
  let isLive = false;
  let stopped = false;

  const connect = async (gateway: string): Promise<GatewayConnection> => {
    const existing = connections.get(gateway);
    if (existing) return existing;
    const connection = await connectGateway(brokerUrl, site.id, gateway);
    connections.set(gateway, connection);
    return connection;
  };

  const pastPacks = () => words.past(created);

  const past = async (): Promise<PastSummary> => {
    // One connection carries all gateways' past, so that it arrives in the order in which it happened.
    let carrier: GatewayConnection | null = null;
    for (const { id } of gateways) carrier = await connect(id);
    let packs = 0;
    let readings = 0;
    for (const pack of pastPacks()) {
      await carrier?.publish(pack.message);
      packs += 1;
      readings += pack.readings;
    }
    await carrier?.settled();
    return { from, to: simulation.now(), messages: packs, readings };
  };

  const liveUntil = async (to: number): Promise<void> => {
    if (!isLive) {
      isLive = true;
      if (options.story) simulation.addFaults(storyFaults(to));
    }
    for (const [gateway, due] of words.live(to)) {
      if (stopped) return;
      if (simulation.isGatewayDead(gateway)) {
        await connections.get(gateway)?.die();
        connections.delete(gateway);
        continue;
      }
      const connection = await connect(gateway);
      for (const message of due) await connection.publish(message);
    }
  };

  const liveStep = () => {
    if (running !== null) return;
    running = liveUntil(options.now())
      .catch((error: unknown) => {
        if (!stopped) console.error(`simulated lab: ${String(error)}`);
      })
      .finally(() => {
        running = null;
      });
  };

  return {
    fleet: published,
    pastPacks,
    past,
    liveUntil,
    startLive: async () => {
      await liveUntil(options.now());
      timer = setInterval(liveStep, LIVE_STEP);
    },
    stop: async () => {
      stopped = true;
      if (timer !== null) clearInterval(timer);
      await Promise.all([...connections.values()].map((connection) => connection.close()));
      connections.clear();
      await running;
    },
  };
};
