// The running system as the web server sees it: the pipeline's state, the archive and the store behind one value.

import type { AlarmArchive } from '../alerts/notices/alarm-archive.ts';
import type { NoticeDesk } from '../alerts/notices/notice-desk.ts';
import type { Watch } from '../alerts/watch/engine/watch.ts';
import { patternOutlooks } from '../alerts/watch/wax-watch.ts';
import { gatewayOnline, seenElectrical, seenProbes } from '../collector/qualify/probe-record.ts';
import type { QuarantineTable } from '../collector/quarantine-table.ts';
import type { Store } from '../collector/store/store.ts';
import type { BrokerEndpoint, RunningLab } from '../dashboard/queries/running-lab.ts';
import type { LabRepository } from '../lab/lab-repository.ts';
import { type EpochMillis, epochMillis } from '../wax/units.ts';
import type { Pipeline } from '../pipeline/pipeline.ts';

export interface RunningLabParts {
  readonly demo: boolean;
  readonly version: string;
  readonly now: () => EpochMillis;
  readonly repository: LabRepository;
  readonly store: Store;
  readonly archive: AlarmArchive;
  readonly quarantine: QuarantineTable;
  readonly watch: Watch;
  readonly pipeline: Pipeline;
  readonly notices: NoticeDesk;
  readonly health: RunningLab['health'];
  readonly brokerEndpoint: () => BrokerEndpoint;
  readonly preparing: () => number | null;
}

export function runningLab(parts: RunningLabParts): RunningLab {
  const { archive, pipeline, repository, watch } = parts;
  repository.onChange(() => pipeline.publish({ kind: 'lab' }));
  return {
    demo: parts.demo,
    version: parts.version,
    preparing: parts.preparing,
    startedAt: parts.now(),
    now: parts.now,
    lab: repository.lab,
    repository,
    store: parts.store,
    statuses: () => watch.statuses(pipeline.watchState, repository.lab()),
    openAlarms: () => watch.openAlarms(pipeline.watchState),
    alarmsBetween: archive.alarmsBetween,
    alarm: archive.alarm,
    alarmChanges: archive.alarmChanges,
    alarmChangesBetween: archive.changesBetween,
    patternOutlook: (id) => patternOutlooks(pipeline.watchState, repository.lab(), id)[0],
    seenProbes: () => seenProbes(pipeline.qualifyState),
    seenElectrical: () => seenElectrical(pipeline.qualifyState),
    gatewayOnline: (gateway) => gatewayOnline(pipeline.qualifyState, gateway),
    quarantine: parts.quarantine.rows,
    act: (act) => pipeline.act({ kind: 'act', receivedAt: epochMillis(parts.now()), act }),
    subscribe: (listener) => pipeline.subscribe(listener),
    health: parts.health,
    notices: parts.notices,
    brokerEndpoint: parts.brokerEndpoint,
  };
}
