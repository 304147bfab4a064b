// What a simulated lab sends, gateway by gateway, without a broker: its past as packs that carry their own instants,
// its present in the format of each gateway.

import type { Fleet } from './lab/fleet.ts';
import type { LabSimulation } from './lab/lab-simulation.ts';
import {
  type GatewayDesign,
  numberMessages,
  type SimulatedReading,
  senmlMessage,
  type WireMessage,
} from './probe/wire-format.ts';

export interface PastPack {
  readonly message: WireMessage;
  /** When a gateway would have sent it: after its newest reading. */
  readonly sentAt: number;
  readonly readings: number;
}

export interface LabMessages {
  /** Everything up to `until`, faster than time, oldest first. */
  readonly past: (until: number) => Generator<PastPack>;
  /** What each gateway has to send since the last time, up to `to`; nothing is an empty list. */
  readonly live: (to: number) => ReadonlyMap<string, readonly WireMessage[]>;
}

/** A pack of the past spans so much: no gateway runs so far ahead of another that the other would seem silent. */
const PAST_PACK_MILLIS = 2 * 60_000;
/**
 * Between a probe's answers. The past is coarser than a real lab's 10 s for a hot pot, so that a week of ten probes is
 * some 170,000 readings and is there within seconds; live, heaters answer oftener than real gateways mostly do.
 */
const PAST_EVERY_MILLIS = { heater: 30_000, storage: 60_000 };
const LIVE_EVERY_MILLIS = { heater: 2000, storage: 10_000 };
/** What is older cannot be sent as a plain number, which is dated by its arrival. */
const FRESH_MILLIS = 3000;
const STORAGE = new Set(['cabinet', 'shelf']);

export const messages = (site: string, fleet: Fleet, simulation: LabSimulation): LabMessages => {
  const { gateways } = fleet;
  const storage = new Set(fleet.stations.filter(({ kind }) => STORAGE.has(kind)).map(({ id }) => id));
  const gatewayOf = new Map(gateways.flatMap(({ id, probes }) => probes.map((probe) => [probe, id])));
  const every = (millis: { readonly heater: number; readonly storage: number }) => (station: string) =>
    storage.has(station) ? millis.storage : millis.heater;

  const byGateway = (readings: readonly SimulatedReading[]): ReadonlyMap<string, SimulatedReading[]> => {
    const groups = new Map<string, SimulatedReading[]>(gateways.map(({ id }) => [id, []]));
    for (const reading of readings) groups.get(gatewayOf.get(reading.probe) ?? '')?.push(reading);
    return groups;
  };

  const inItsFormat = (
    { id, format }: GatewayDesign,
    readings: readonly SimulatedReading[],
    to: number,
  ): readonly WireMessage[] => {
    if (readings.length === 0) return [];
    if (format === 'senml') return [senmlMessage(site, id, readings)];
    const old = readings.filter(({ at }) => at < to - FRESH_MILLIS);
    const fresh = readings.filter(({ at }) => at >= to - FRESH_MILLIS);
    return [...(old.length > 0 ? [senmlMessage(site, id, old)] : []), ...numberMessages(site, id, fresh)];
  };

  return {
    *past(until) {
      let before = Number.NEGATIVE_INFINITY;
      while (simulation.now() > before) {
        before = simulation.now();
        const readings = simulation.advance(
          Math.min(until, before + PAST_PACK_MILLIS),
          every(PAST_EVERY_MILLIS),
        );
        for (const [gateway, own] of byGateway(readings))
          if (own.length > 0)
            yield {
              message: senmlMessage(site, gateway, own),
              sentAt: simulation.now(),
              readings: own.length,
            };
      }
    },
    live: (to) => {
      const groups = byGateway(simulation.advance(to, every(LIVE_EVERY_MILLIS)));
      return new Map(
        gateways.map((gateway) => [gateway.id, inItsFormat(gateway, groups.get(gateway.id) ?? [], to)]),
      );
    },
  };
};
