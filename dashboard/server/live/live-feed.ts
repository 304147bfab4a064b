// From what the pipeline publishes to what the screens get: updates of stations and probes gathered, alarms at once.
// It reads the running lab and changes nothing in it.

import type { AlarmView, ProbeView, StationLive } from '../../api/schemas.ts';
import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { iso } from '../base/instant.ts';
import { readerKey } from '../sign-in/reader.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { LabChange } from '../../../pipeline/published.ts';
import { type Broadcast, openBroadcast } from './broadcast.ts';
import { gather } from './gather.ts';

export interface LiveViews {
  readonly station: (status: StationStatus) => StationLive | null;
  readonly alarm: (alarm: Alarm, reader: ReaderSettings) => AlarmView;
  readonly probe: (id: string) => ProbeView | null;
}

export type LiveFeed = Omit<Broadcast, 'publish'>;

/** At most one update a station in this span: four a second is more than an eye follows. */
const STATION_MILLIS = 250;
/** Lists of probes are read by people who set up; a wall has no use for each reading. */
const PROBE_MILLIS = 2000;

export const liveFeed = (running: RunningLab, views: LiveViews, boot: string): LiveFeed => {
  const { publish, ...broadcast } = openBroadcast(boot, () => iso(running.now()));
  const lastSent = new Map<string, string>();

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
  const unsubscribe = running.subscribe(publishChange);

  return {
    ...broadcast,
    close: () => {
      unsubscribe();
      stations.stop();
      probes.stop();
      broadcast.close();
    },
  };
};
