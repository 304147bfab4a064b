// What the broker queues for a round of the ingest bench: readings of a lab at work, in messages of one reading or of many.

import { connectAsync } from 'mqtt';
import type { Lab } from '../../../lab/lab.ts';
import type { StationKind } from '../../../lab/station-kinds.ts';

/** Readings of the last month, which no rule judges as live, begin so far back that no round reaches today. */
const PAST_MILLIS = 30 * 86_400_000;
const PAST_APART_MILLIS = 2000;
/**
 * Instants of a probe are at least a millisecond apart, so those of a round advance faster than time does. Live ones
 * begin so far back that no round comes ahead of now: beyond some seconds a gateway's clock is taken to be wrong.
 */
const LIVE_BACK_MILLIS = 120_000;
const WAITING = 1000;
const MESSAGES = 50_000;

export interface Workload {
  readonly name: string;
  readonly what: string;
  readonly messages: number;
  readonly readingsAMessage: number;
  /** Whether instants are those of publishing, at working temperature. */
  readonly isLive: boolean;
}

export const WORKLOADS: readonly Workload[] = [
  {
    name: 'ingest-past',
    what: 'one reading of last month a message, as this bench did it before',
    messages: MESSAGES,
    readingsAMessage: 1,
    isLive: false,
  },
  {
    name: 'ingest-packs',
    what: 'fifty live readings of a warm lab a message',
    messages: MESSAGES / 25,
    readingsAMessage: 50,
    isLive: true,
  },
  {
    name: 'ingest',
    what: 'one live reading of a warm lab a message',
    messages: MESSAGES,
    readingsAMessage: 1,
    isLive: true,
  },
];

/** Where heaters work, well inside the windows of the demonstration's waxes. */
const WORKING_CELSIUS: Partial<Record<StationKind, number>> = {
  'melt-pot': 75,
  'dip-pot': 75,
  annealer: 45,
  'water-bath': 50,
  lamp: 50,
};
const ROOM_CELSIUS = 21;
const SIXTEENTH = 16;

export interface LastReading {
  readonly probe: string;
  readonly at: number;
}

/** Answers messages of the lab's probes in turn; no instant comes twice for a probe. */
export function openPublisher(url: string, lab: Lab) {
  const kinds = new Map(lab.stations.map(({ id, kind }) => [id, kind]));
  const probes = lab.probes.flatMap(({ id, station, gateway }) => {
    const kind = station === null ? undefined : kinds.get(station);
    return kind === undefined
      ? []
      : [{ id, gateway, base: WORKING_CELSIUS[kind] ?? ROOM_CELSIUS, turn: 0, newest: 0 }];
  });
  /** A message's readings are all of one probe, as of a gateway that gathers. */
  const packOf = (index: number, { readingsAMessage, isLive }: Workload) => {
    const probe = probes[index % probes.length];
    if (probe === undefined) throw new Error('the lab has no probes');
    const pack = Array.from({ length: readingsAMessage }, () => {
      probe.turn += 1;
      const at = isLive
        ? Math.max(probe.newest + 1, Date.now() - LIVE_BACK_MILLIS)
        : Math.max(probe.newest, Date.now() - PAST_MILLIS) + PAST_APART_MILLIS;
      probe.newest = at;
      const value = probe.base + 0.5 * Math.sin(probe.turn / 50);
      return { n: probe.id, u: 'Cel', v: Math.round(value * SIXTEENTH) / SIXTEENTH, t: at / 1000 };
    });
    return { probe, pack };
  };
  /**
   * Publishes one round; returns its last reading. `isHurried`: behind it comes a message that nobody can read, which
   * the product commits at once with all before it; else the last readings are held for up to a second.
   */
  return async (workload: Workload, { isHurried }: { readonly isHurried: boolean }): Promise<LastReading> => {
    const client = await connectAsync(url, { clientId: 'publisher' });
    let sent: Promise<unknown>[] = [];
    let last: LastReading = { probe: '', at: 0 };
    for (let index = 0; index < workload.messages; index += 1) {
      const { probe, pack } = packOf(index, workload);
      last = { probe: probe.id, at: probe.newest };
      sent.push(
        client.publishAsync(`wax/${lab.site.id}/${probe.gateway}/senml`, JSON.stringify(pack), { qos: 1 }),
      );
      if (sent.length < WAITING) continue;
      await Promise.all(sent);
      sent = [];
    }
    await Promise.all(sent);
    if (isHurried) await client.publishAsync(`wax/${lab.site.id}/bench/unreadable`, '', { qos: 1 });
    await client.endAsync();
    return last;
  };
}
