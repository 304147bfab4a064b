// Tells lamps and buzzers at the bench over MQTT, retained. At most one message a topic and interval, and only when
// it says something new; everything once at the start, so that nothing stale of an earlier run stands.

import type { Intake } from '../collector/intake/intake.ts';
import type { RunningLab } from '../dashboard/queries/running-lab.ts';
import { alarmSignal, type Signal, stationSignal } from './bench-signals.ts';

const INTERVAL_MILLIS = 1000;

/** Answers a function that ends it. */
export function publishSignals(running: RunningLab, intake: Pick<Intake, 'publish'>): () => void {
  const said = new Map<string, string>();
  let waiting: NodeJS.Timeout | null = null;

  const say = ({ topic, payload }: Signal): void => {
    if (said.get(topic) === payload) return;
    said.set(topic, payload);
    intake.publish(topic, payload, { retain: true });
  };
  const sayAll = (): void => {
    waiting = null;
    const { site, stations } = running.lab();
    const open = running.openAlarms();
    for (const status of running.statuses()) say(stationSignal(site.id, status));
    for (const { id } of stations) say(alarmSignal(site.id, id, open));
  };
  sayAll();
  const unsubscribe = running.subscribe(() => {
    waiting ??= setTimeout(sayAll, INTERVAL_MILLIS);
  });
  return () => {
    unsubscribe();
    if (waiting !== null) clearTimeout(waiting);
  };
}
