// From what the pipeline tells to what the screens get: station updates gathered, kept in the ring, sent to all.
// It reads the running lab and changes nothing in it.

import type { AlarmView, ProbeView, StationLive } from '../../api/schemas.ts';
import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { iso } from '../base/instant.ts';
import { readerKey } from '../sign-in/reader.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { LabChange } from '../../../pipeline/published.ts';
import { type EventRing, eventRing } from './event-ring.ts';
import { gather } from './gather.ts';
import type { LiveClient } from './live-client.ts';

export interface LiveViews {
  readonly station: (status: StationStatus) => StationLive | null;
  readonly alarm: (alarm: Alarm, reader: ReaderSettings) => AlarmView;
  readonly probe: (id: string) => ProbeView | null;
}

export interface LiveFeed {
  readonly clients: () => number;
  /** Welcomes a screen; `lastSeen` is the id that it names, null when it comes for the first time. */
  readonly join: (client: LiveClient, lastSeen: string | null) => void;
  readonly leave: (client: LiveClient) => void;
  readonly close: () => void;
}

/** At most one update a station in this span: four a second is more than an eye follows. */
const STATION_MILLIS = 250;
/** Lists of probes are read by people who set up; a wall has no use for each reading. */
const PROBE_MILLIS = 2000;
const BEAT_MILLIS = 1000;
/** Some minutes of a busy lab of forty stations. */
const KEPT_EVENTS = 20_000;

export const liveFeed = (running: RunningLab, views: LiveViews, boot: string): LiveFeed => {
  const ring: EventRing = eventRing(boot, KEPT_EVENTS);
  const clients = new Set<LiveClient>();
  const lastSent = new Map<string, string>();

  const publish = (...event: Parameters<EventRing['push']>): void => {
    const kept = ring.push(...event);
    for (const client of clients) client.send(kept);
  };
  const stations = gather<StationStatus>(STATION_MILLIS, (statuses) => {
    for (const status of statuses) {
      const view = views.station(status);
      if (view === null) continue;
      const data = JSON.stringify(view);
      if (lastSent.get(view.id) === data) continue;
      lastSent.set(view.id, data);
      publish('station', () => data);
    }
  });
  const probes = gather<string>(PROBE_MILLIS, (ids) => {
    for (const id of ids) {
      const view = views.probe(id);
      if (view === null) continue;
      const data = JSON.stringify(view);
      publish('probe', () => data);
    }
  });
  const publishAlarm = (alarm: Alarm): void => {
    const worded = new Map<string, string>();
    publish('alarm', (reader) => {
      const key = readerKey(reader);
      const data = worded.get(key) ?? JSON.stringify(views.alarm(alarm, reader));
      worded.set(key, data);
      return data;
    });
  };
  const publishLab = (): void => {
    const data = JSON.stringify({ changedAt: iso(running.now()) });
    lastSent.clear();
    publish('lab', () => data);
  };
  const publishChange = (change: LabChange): void => {
    switch (change.kind) {
      case 'statuses':
        for (const status of change.statuses) stations.add(status.station, status);
        break;
      case 'probes':
        for (const id of change.probes) probes.add(id, id);
        break;
      case 'alarm':
        publishAlarm(change.change.alarm);
        break;
      case 'lab':
        publishLab();
        break;
    }
  };
  const beat = (): void => {
    for (const client of clients) {
      if (client.stillWelcome()) {
        client.notice('beat', ring.newestId(), { now: iso(running.now()) });
        continue;
      }
      client.end();
      clients.delete(client);
    }
  };
  const unsubscribe = running.subscribe(publishChange);
  const beats = setInterval(beat, BEAT_MILLIS);

  return {
    clients: () => clients.size,
    join: (client, lastSeen) => {
      const missed = lastSeen === null ? [] : ring.since(lastSeen);
      if (missed === null) client.notice('restart', ring.newestId(), {});
      else for (const event of missed) client.send(event);
      client.notice('beat', ring.newestId(), { now: iso(running.now()) });
      clients.add(client);
    },
    leave: (client) => clients.delete(client),
    close: () => {
      unsubscribe();
      clearInterval(beats);
      stations.stop();
      probes.stop();
      for (const client of clients) client.end();
      clients.clear();
    },
  };
};
