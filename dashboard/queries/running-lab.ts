// What the web server needs from the running system. cli builds it from the pipeline, the lab and the store;
// tests build it from the same parts over a real database. The server itself reaches no broker and no journal.

import type { Alarm, AlarmChange } from '../../alerts/watch/life/alarm.ts';
import type { PatternOutlook } from '../../alerts/watch/measures/pattern-outlook.ts';
import type { NoticeDesk } from '../../alerts/notices/notice-desk.ts';
import type { StationStatus } from '../../alerts/watch/engine/station-status.ts';
import type { GatewayAccount } from '../../collector/intake/broker-access.ts';
import type { PartHealth } from '../../collector/part-health.ts';
import type { SeenStatus } from '../../collector/qualify/device-status.ts';
import type { ElectricalRecord, SeenGateway, SeenProbe } from '../../collector/qualify/probe-record.ts';
import type { QuarantineRow } from '../../collector/quarantine.ts';
import type { IntakeCounts } from '../../collector/intake/intake.ts';
import type { Store } from '../../collector/store/store.ts';
import type { Act } from '../../lab/act.ts';
import type { ConnectionSettings } from '../../lab/database/connection-settings.ts';
import type { EntryRecord } from '../../lab/database/entry-record.ts';
import type { Lab } from '../../lab/lab.ts';
import type { GroupLinkStatus } from '../../lab/group/group-link.ts';
import type { BrokerEndpointView } from '../api/lab-bodies.ts';
import type { GroupLinkTable } from '../../lab/group/group-link-table.ts';
import type { GroupOfferTable } from '../../lab/group/group-offer-table.ts';
import type { PayloadMappings } from '../../lab/database/payload-mapping-table.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import type { ActOutcome, LabChange } from '../../pipeline/published.ts';
import type { EpochMillis } from '../../wax/units.ts';

export interface RunningLab {
  readonly demo: boolean;
  readonly version: string;
  /** Share of a simulated past that is in the store, 0 to 1; null when nothing is being prepared. */
  readonly preparing?: () => number | null;
  readonly startedAt: EpochMillis;
  readonly now: () => EpochMillis;
  readonly lab: () => Lab;
  /** Changes of the lab go here; the pipeline sees them at once. */
  readonly repository: LabRepository;
  readonly store: Store;
  readonly statuses: () => readonly StationStatus[];
  readonly openAlarms: () => readonly Alarm[];
  /** Alarms raised in the span, newest first, over ones included. */
  readonly alarmsBetween: (from: EpochMillis, to: EpochMillis, limit: number) => readonly Alarm[];
  readonly alarm: (id: string) => Alarm | null;
  readonly alarmChanges: (id: string) => readonly AlarmChange[];
  /** Changes of all alarms in [from, to), oldest first. */
  readonly alarmChangesBetween: (from: EpochMillis, to: EpochMillis, limit: number) => readonly AlarmChange[];
  /** What people did and gateways reported in [from, to), in the order in which it came. */
  readonly recordedEntries: EntryRecord['between'];
  /** Predicted error and invest-by time of a waiting pattern; absent while no rule works them out. */
  readonly patternOutlook?: (pattern: string, asOf?: EpochMillis) => PatternOutlook | undefined;
  readonly seenProbes: () => readonly SeenProbe[];
  /** One of them, in no more time however many there are. */
  readonly seenProbe: (id: string) => SeenProbe | undefined;
  /** The newest ohms or millivolts of bare sensors, by probe. */
  readonly seenElectrical: () => ReadonlyMap<string, ElectricalRecord>;
  readonly electrical: (id: string) => ElectricalRecord | undefined;
  /** Battery and signal of a probe, else of its gateway. */
  readonly deviceStatus: (probe: string, gateway: string) => SeenStatus | undefined;
  readonly gatewayOnline: (gateway: string) => boolean | null;
  readonly seenGateways: () => readonly SeenGateway[];
  readonly quarantine: (limit: number) => readonly QuarantineRow[];
  readonly mappings: PayloadMappings;
  /** Whether and what the lab reports to its group. */
  readonly groupLink: Pick<GroupLinkTable, 'setting' | 'save'>;
  /** What its group offers the lab. */
  readonly groupOffers: Pick<GroupOfferTable, 'all' | 'offer' | 'answer' | 'openCount'>;
  /** What a manager set of mail and network. */
  readonly connections: Pick<ConnectionSettings, 'setting' | 'save'>;
  /** Null until the process has begun, and where the tests have no broker. */
  readonly groupLinkStatus?: () => GroupLinkStatus | null;
  /** Journals the act, applies it, and resolves when it is committed. */
  readonly act: (act: Act) => Promise<ActOutcome>;
  /** By which alarms reach people. */
  readonly notices: NoticeDesk;
  readonly subscribe: (listener: (change: LabChange) => void) => () => void;
  /** Where gateways publish to; absent where the tests have no broker. */
  readonly brokerEndpoint?: () => BrokerEndpointView;
  /** Sends the test reading of set-up to the broker as a gateway would; rejects with what went wrong. */
  readonly publishTestReading?: () => Promise<void>;
  /** From now on these gateways have accounts at the own broker, and no others; absent without an own broker. */
  readonly setGatewayAccounts?: (accounts: readonly GatewayAccount[]) => void;
  /** Messages since the start; absent where the tests have no broker. */
  readonly intakeCounts?: () => IntakeCounts;
  /** When the last good copy of the data was made; null when there was none. */
  readonly lastCopyAt?: () => EpochMillis | null;
  /** When the certificate ends that the server shows; null without HTTPS. */
  readonly certificateEndsAt?: () => EpochMillis | null;
  readonly health: () => Promise<Readonly<Record<string, PartHealth>>>;
}
