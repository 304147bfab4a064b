// The running system as the web server sees it: the pipeline's state, the archive and the store behind one value.

import type { AlarmArchive } from '../../alerts/notices/alarm-archive.ts';
import type { NoticeDesk } from '../../alerts/notices/notice-desk.ts';
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
import type { IntakeCounts } from '../../collector/intake/intake.ts';
import type { Store } from '../../collector/store/store.ts';
import type { BrokerEndpointView } from '../../dashboard/api/lab-bodies.ts';
import type { RunningLab } from '../../dashboard/queries/running-lab.ts';
import type { ConnectionSettings } from '../../lab/database/connection-settings.ts';
import type { GroupLinkStatus } from '../../lab/group/group-link.ts';
import type { GroupLinkTable } from '../../lab/group/group-link-table.ts';
import type { GroupOfferTable } from '../../lab/group/group-offer-table.ts';
import type { PayloadMappings } from '../../lab/database/payload-mapping-table.ts';
import type { EntryRecord } from '../../lab/database/entry-record.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import type { StationStatus } from '../../alerts/watch/engine/station-status.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { Pipeline } from '../../pipeline/pipeline.ts';
import type { UnrecordedAlarm } from '../../pipeline/unrecorded-alarm.ts';

export interface RunningLabParts {
  readonly demo: boolean;
  readonly version: string;
  readonly now: () => EpochMillis;
  readonly repository: LabRepository;
  readonly store: Store;
  readonly archive: AlarmArchive;
  readonly entryRecord: EntryRecord;
  readonly quarantine: QuarantineTable;
  readonly mappings: PayloadMappings;
  readonly groupLink: GroupLinkTable;
  readonly groupOffers: GroupOfferTable;
  readonly connections: ConnectionSettings;
  readonly groupLinkStatus: () => GroupLinkStatus | null;
  readonly watch: Watch;
  readonly pipeline: Pipeline;
  readonly notices: NoticeDesk;
  readonly health: RunningLab['health'];
  readonly brokerEndpoint: () => BrokerEndpointView;
  readonly publishTestReading: () => Promise<void>;
  readonly setGatewayAccounts: NonNullable<RunningLab['setGatewayAccounts']>;
  readonly intakeCounts: () => IntakeCounts;
  readonly lastCopyAt: () => EpochMillis | null;
  readonly certificateEndsAt: () => EpochMillis | null;
  readonly preparing: () => number | null;
  readonly unrecorded: Pick<UnrecordedAlarm, 'open'>;
}

/** Time is written down every few seconds; when it was not for so long, the watch does not know how things stand. */
const BLIND_MILLIS = MILLIS_PER_MINUTE;

/** What the watch last knew, without saying how the station stands now. */
const unknown = (status: StationStatus): StationStatus => ({
  ...status,
  condition: 'no-data',
  celsiusPerHour: null,
  minutesToCeiling: null,
});

export function runningLab(parts: RunningLabParts): RunningLab {
  const { archive, pipeline, repository, unrecorded, watch } = parts;
  /** After a start until the backlog is judged, and while nothing can be written. */
  const isBlind = (): boolean => {
    const judgedUpTo = pipeline.watchState.clock?.now;
    return parts.preparing() === null && judgedUpTo !== undefined && parts.now() - judgedUpTo > BLIND_MILLIS;
  };
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
    statuses: () => {
      const statuses = watch.statuses(pipeline.watchState, repository.lab());
      return isBlind() ? statuses.map(unknown) : statuses;
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
      patternOutlooks(pipeline.watchState, repository.lab(), parts.now(), { pattern: id, asOf })[0],
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
    mappings: parts.mappings,
    groupLink: parts.groupLink,
    groupOffers: parts.groupOffers,
    connections: parts.connections,
    groupLinkStatus: parts.groupLinkStatus,
    act: (act) => pipeline.act({ kind: 'act', receivedAt: epochMillis(parts.now()), act }),
    subscribe: (listener) => pipeline.subscribe(listener),
    health: parts.health,
    notices: parts.notices,
    brokerEndpoint: parts.brokerEndpoint,
    publishTestReading: parts.publishTestReading,
    setGatewayAccounts: parts.setGatewayAccounts,
    intakeCounts: parts.intakeCounts,
    lastCopyAt: parts.lastCopyAt,
    certificateEndsAt: parts.certificateEndsAt,
  };
}
