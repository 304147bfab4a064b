// What the web server reads of the running system: the pipeline's state and the archive behind one value.

import type { AlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import type { Watch } from '../../alerts/watch/engine/watch.ts';
import { patternOutlooks } from '../../alerts/watch/wax-watch.ts';
import { seenStatus } from '../../collector/qualify/device-status.ts';
import {
  electricalRecord,
  gatewayOnline,
  seenElectrical,
  seenGateways,
  seenProbe,
  seenProbes,
} from '../../collector/qualify/probe-record.ts';
import type { QuarantineTable } from '../../collector/quarantine-table.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import type { EntryRecord } from '../../lab/database/entry-record.ts';
import type { StationStatus } from '../../alerts/watch/engine/station-status.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { Pipeline } from '../../pipeline/pipeline.ts';
import type { UnrecordedAlarm } from '../../pipeline/unrecorded-alarm.ts';

interface AskedParts extends Pick<RunningLab, 'now' | 'repository'>, Required<Pick<RunningLab, 'preparing'>> {
  readonly archive: AlarmArchive;
  readonly entryRecord: EntryRecord;
  readonly quarantine: QuarantineTable;
  readonly watch: Watch;
  readonly pipeline: Pipeline;
  readonly unrecorded: Pick<UnrecordedAlarm, 'open'>;
}

/** A tick is written every few seconds; after this long without one, the present state is not known. */
const BLIND_MILLIS = MILLIS_PER_MINUTE;

/** What was last known, without the present state of the station. */
const asNoData = (status: StationStatus): StationStatus => ({
  ...status,
  condition: 'no-data',
  celsiusPerHour: null,
  minutesToCeiling: null,
});

/** The parts of a running lab that are worked out when they are needed. */
export function answersOfParts(parts: AskedParts) {
  const { archive, now, pipeline, repository, unrecorded, watch } = parts;
  /** After a start until the backlog is judged, and while nothing can be written. */
  const isBlind = (): boolean => {
    const judgedUpTo = pipeline.watchState.clock?.now;
    return parts.preparing() === null && judgedUpTo !== undefined && now() - judgedUpTo > BLIND_MILLIS;
  };
  return {
    lab: repository.lab,
    statuses: () => {
      const statuses = watch.statuses(pipeline.watchState, repository.lab());
      return isBlind() ? statuses.map(asNoData) : statuses;
    },
    openAlarms: () => {
      const alarm = unrecorded.open();
      const open = watch.openAlarms(pipeline.watchState);
      return alarm === null ? open : [alarm, ...open];
    },
    alarmsBetween: archive.alarmsBetween,
    alarm: (id) => {
      const alarm = unrecorded.open();
      return alarm?.id === id ? alarm : archive.alarm(id);
    },
    alarmChanges: archive.alarmChanges,
    alarmChangesBetween: archive.changesBetween,
    recordedEntries: parts.entryRecord.between,
    patternOutlook: (id, asOf) =>
      patternOutlooks(pipeline.watchState, repository.lab(), now(), { pattern: id, asOf })[0],
    seenProbes: () => seenProbes(pipeline.qualifyState),
    seenProbe: (id) => seenProbe(pipeline.qualifyState, id),
    electrical: (id) => electricalRecord(pipeline.qualifyState, id),
    seenElectrical: () => seenElectrical(pipeline.qualifyState),
    deviceStatus: (probe, gateway) => {
      const { battery_low_volts = null } = repository.lab().probes.find(({ id }) => id === probe) ?? {};
      return seenStatus(pipeline.qualifyState, probe, gateway, battery_low_volts);
    },
    gatewayOnline: (gateway) => gatewayOnline(pipeline.qualifyState, gateway),
    seenGateways: () => seenGateways(pipeline.qualifyState),
    quarantine: parts.quarantine.rows,
    act: (act) => pipeline.act({ kind: 'act', receivedAt: epochMillis(now()), act }),
    subscribe: (listener) => pipeline.subscribe(listener),
  } satisfies Partial<RunningLab>;
}
