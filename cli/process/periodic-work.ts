// What the passing of time brings about: ticks in the journal, the check of store and disk, the sealing of readings,
// the mailed night sheet.

import type { Intake } from '../../collector/intake/intake.ts';
import { kindOfProbe } from '../../lab/probes/kind-of-probe.ts';
import { openCopyRecord } from '../../lab/database/copy-record.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import { startNightDelivery } from '../../dashboard/reports/night/start-night-delivery.ts';
import { paperThread } from '../../dashboard/reports/paper/paper-thread.ts';
import { startSelfCheck } from '../../pipeline/self-check.ts';
import type { Pipeline } from '../../pipeline/pipeline.ts';
import type { UnrecordedAlarm } from '../../pipeline/unrecorded-alarm.ts';
import { MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { lastCopyOf, startDailyCopies } from '../data/daily-copies.ts';
import { TICK_MILLIS } from '../../lab/entry.ts';
import type { LabData } from '../data/lab-data.ts';
import { mailNow } from './mail-now.ts';
import type { ProcessSettings } from '../settings/settings.ts';

/** How often it is looked at whether the journal can be written. */
const UNRECORDED_MILLIS = 1000;
const TIDY_MILLIS = 5 * MILLIS_PER_MINUTE;

/** Returns a function that ends it. */
export function startPeriodicWork(
  settings: ProcessSettings,
  running: RunningLab,
  { append }: Pick<Intake, 'append'>,
  { connections, database, store }: LabData,
  {
    pipeline,
    unrecorded,
  }: { readonly pipeline: Pick<Pipeline, 'setAside'>; readonly unrecorded: UnrecordedAlarm },
): () => Promise<void> {
  const copies = openCopyRecord(database);
  const endSelfCheck = startSelfCheck({
    store,
    setAside: () => pipeline.setAside,
    dataFolder: settings.data,
    database: database.file,
    lastCopy: () => lastCopyOf(copies, settings.copies !== null),
    now: running.now,
    append,
  });
  const endCopies =
    settings.copies === null
      ? null
      : startDailyCopies({ data: settings.data, copies: settings.copies, database, now: running.now });
  const endNightDelivery = startNightDelivery(
    running,
    database,
    mailNow(settings, connections),
    paperThread(),
  );
  const tick = (): void => {
    // A disk that refuses is shown by the journal's own state; the next tick tries again.
    const process = { startedAt: running.startedAt, runningMillis: Math.round(performance.now()) };
    append([{ kind: 'tick', receivedAt: running.now(), process }]).catch(() => {});
  };
  // At once: until a tick is written nothing counts as known.
  tick();
  const clock = setInterval(tick, TICK_MILLIS);
  const tidying = setInterval(() => {
    // What failed is tried again, and shown by the health of the store.
    store.tidy(running.now(), kindOfProbe(running.lab())).catch(() => {});
  }, TIDY_MILLIS);
  const unrecordedCheck = setInterval(unrecorded.check, UNRECORDED_MILLIS);
  return async () => {
    clearInterval(unrecordedCheck);
    clearInterval(clock);
    clearInterval(tidying);
    endSelfCheck();
    await endCopies?.();
    await endNightDelivery();
  };
}
