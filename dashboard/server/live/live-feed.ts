// From what the pipeline publishes to what the screens get: updates of stations and probes gathered, alarms at once.
// It reads the running lab and changes nothing in it.

import type { AlarmView, ProbeView, StationLive } from '../../api/schemas.ts';
import type { StationStatus } from '../../../alerts/watch/engine/station-status.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import { readerKey } from '../sign-in/reader.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { LabChange } from '../../../pipeline/published.ts';
import { type Broadcast, openBroadcast } from './broadcast.ts';
import { gather } from './gather.ts';
import { iso } from '../../../wax/iso.ts';

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
  /**
   * Made for the first screen that an event is sent to, while none is connected for nobody: by then only the newest
   * of its name has something to send.
   */
  const onDemand = <Value>(event: 'station' | 'probe', dataOf: (value: Value) => string | null) => {
    const newest = new Map<string, { readonly turn: number; readonly value: Value }>();
    let turns = 0;
    return (name: string, value: Value): void => {
      turns += 1;
      const turn = turns;
      // Not held by the event, of which thousands are kept.
      newest.set(name, { turn, value });
      let data: string | null | undefined;
      publish(event, () => {
        const current = newest.get(name);
        if (data === undefined) data = current?.turn === turn ? dataOf(current.value) : null;
        return data;
      });
    };
  };

  const publishStation = onDemand<StationStatus>('station', (status) => {
    const view = views.station(status);
    const data = view === null ? null : JSON.stringify(view);
    if (data === null || lastSent.get(status.station) === data) return null;
    lastSent.set(status.station, data);
    return data;
  });
  const stations = gather<StationStatus>(STATION_MILLIS, (statuses) => {
    for (const status of statuses) publishStation(status.station, status);
  });
  const publishProbe = onDemand<string>('probe', (id) => {
    const view = views.probe(id);
    return view === null ? null : JSON.stringify(view);
  });
  const probes = gather<string>(PROBE_MILLIS, (ids) => {
    for (const id of ids) publishProbe(id, id);
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
