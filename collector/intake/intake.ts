// Intake as the main thread sees it. The broker, the decoder and the writing end of the journal run in a worker
// thread, so that no request and no report holds up an acknowledgement. It knows nothing of wax.

import type { Entry } from '../../lab/entry.ts';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import type { Problem } from '../../wax/result.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { TornTail } from '../journal/journal.ts';
import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import type { GatewayAccount } from './broker-access.ts';
import type { BrokerLogin } from './broker-login.ts';

export interface BrokerCertificate {
  readonly cert: string;
  readonly key: string;
}

export interface EmbeddedBroker {
  readonly kind: 'embedded';
  /** Address to listen on. Anything but a loopback address demands a login. */
  readonly host: string;
  /** 0 for a free one; the status names it. */
  readonly port: number;
  readonly login: BrokerLogin | null;
  /** Certificate and key, PEM: clients then connect by TLS alone. */
  readonly tls?: BrokerCertificate;
  /** Of gateways that were paired. */
  readonly accounts?: readonly GatewayAccount[];
  /** Database of what is kept for clients that are away; nothing is when absent. */
  readonly sessionsFile?: string;
}

export interface ExternalBroker {
  readonly kind: 'external';
  /** `mqtt://` or `mqtts://`, with `user:password@` where the broker requires them. */
  readonly url: string;
  /** Further brokers, tried in turn with the sign-in of the first. */
  readonly otherUrls?: readonly string[];
  /** File with the certificate of the authority that the broker's own is checked against. */
  readonly authority?: string;
  /** How long it may leave everything unacknowledged; for tests. */
  readonly unansweredMillis?: number;
}

export interface IntakeOptions {
  readonly site: string;
  readonly journalFolder: string;
  readonly broker: EmbeddedBroker | ExternalBroker;
  /** As the lab has them at the start. */
  readonly mappings?: readonly PayloadMapping[];
  /** A segment is closed when it is longer than this. */
  readonly segmentBytes?: number;
  /** The journal is forced to disk at the latest after so long; 0, as when absent: before a message is acknowledged. */
  readonly journalSyncMillis?: number;
  /** Journal offset that the store has applied: a journal that is lost goes on behind it. */
  readonly appliedOffset?: number;
}

export type BrokerStatus =
  | { readonly state: 'listening'; readonly host: string; readonly port: number; readonly clients: number }
  | {
      readonly state: 'connected';
      readonly since: EpochMillis;
      /** What the broker kept while we were away is still coming in. */
      readonly isCatchingUp: boolean;
    }
  | {
      readonly state: 'unreachable';
      readonly since: EpochMillis;
      readonly attempts: number;
      readonly problem: Problem;
    };

export type JournalStatus =
  | { readonly state: 'writing' }
  /** Nothing is acknowledged while this lasts, so gateways and broker keep what they send. */
  | { readonly state: 'failing'; readonly since: EpochMillis; readonly problem: Problem };

export interface IntakeStatus {
  readonly broker: BrokerStatus;
  readonly journal: JournalStatus;
}

export interface IntakeCounts {
  /** Messages taken since the start. */
  readonly received: number;
  /** Messages whose entries are on disk and that were acknowledged. */
  readonly acknowledged: number;
  readonly rejected: number;
}

export interface Intake {
  /** Offset after the last entry that is on disk. */
  readonly journalEnd: () => number;
  readonly tornTail: TornTail | null;
  readonly status: () => IntakeStatus;
  readonly counts: () => IntakeCounts;
  /** Called, at most once a commit, when the journal has grown. Each of these returns a function that ends it. */
  readonly onJournal: (listener: (end: number) => void) => () => void;
  readonly onStatus: (listener: (status: IntakeStatus) => void) => () => void;
  /**
   * Journals what did not come by MQTT: ticks and people's acts. Returns the offset after them once they are on
   * disk; rejects with a `JournalFailure` when the disk refuses them.
   */
  readonly append: (entries: readonly Entry[]) => Promise<number>;
  /** To the broker, at least once while it is reachable; the newest per topic is kept while it is not. */
  readonly publish: (topic: string, payload: string, options: { readonly retain: boolean }) => void;
  /** To the broker, once, not retained; returns its answer. Pending for ever when it never answers. */
  readonly deliver: (topic: string, payload: string) => Promise<BrokerAnswer>;
  /** From now on these mappings decode what comes on their topics. */
  readonly map: (mappings: readonly PayloadMapping[]) => void;
  /** The accounts of gateways at the embedded broker, in place of those before; no other broker has any. */
  readonly setGatewayAccounts: (accounts: readonly GatewayAccount[]) => void;
  /** A newer certificate of the embedded broker, for connections from now on. */
  readonly setCertificate: (certificate: BrokerCertificate) => void;
  /** What lies before the offset has been applied everywhere and may be deleted. */
  readonly release: (offset: number) => void;
  /** Takes no more messages, commits what it has, disconnects from the broker and ends the worker. */
  readonly stop: () => Promise<void>;
}
