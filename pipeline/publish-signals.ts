// Publishes the state of each station for lamps and buzzers at the bench over MQTT, retained. At most one message a
// topic and interval, and only when it differs from the last; everything once at the start, so that nothing stale of
// an earlier run stands.

import type { StationStatus } from '../alerts/watch/engine/station-status.ts';
import type { Alarm } from '../alerts/watch/life/alarm.ts';
import type { Intake } from '../collector/intake/intake.ts';
import type { Lab } from '../lab/lab.ts';
import { alarmSignal, type Signal, stationSignal } from './bench-signals.ts';

const INTERVAL_MILLIS = 1000;

export interface SignalSource {
  readonly lab: () => Lab;
  readonly statuses: () => readonly StationStatus[];
  readonly openAlarms: () => readonly Alarm[];
  readonly subscribe: (listener: () => void) => () => void;
}

/** Returns a function that ends it. */
export function publishSignals(source: SignalSource, intake: Pick<Intake, 'publish'>): () => void {
  const published = new Map<string, string>();
  let timer: NodeJS.Timeout | null = null;

  const publish = ({ topic, payload }: Signal): void => {
    if (published.get(topic) === payload) return;
    published.set(topic, payload);
    intake.publish(topic, payload, { retain: true });
  };
  const publishAll = (): void => {
    timer = null;
    const { site, stations } = source.lab();
    const open = source.openAlarms();
    for (const status of source.statuses()) publish(stationSignal(site.id, status));
    for (const { id } of stations) publish(alarmSignal(site.id, id, open));
  };
  publishAll();
  const unsubscribe = source.subscribe(() => {
    timer ??= setTimeout(publishAll, INTERVAL_MILLIS);
  });
  return () => {
    unsubscribe();
    if (timer !== null) clearTimeout(timer);
  };
}
