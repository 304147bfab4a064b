// What crosses between the main thread and the intake thread; plain values that can be cloned.

import type { Entry } from '../../lab/entry.ts';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import type { Problem } from '../../wax/result.ts';
import type { TornTail } from '../journal/journal.ts';
import type { BrokerAnswer } from '../../lab/broker-answer.ts';
import type { GatewayAccount } from './broker-access.ts';
import type { BrokerCertificate, IntakeCounts, IntakeStatus } from './intake.ts';

export type ToWorker =
  | { readonly kind: 'append'; readonly id: number; readonly entries: readonly Entry[] }
  | { readonly kind: 'publish'; readonly topic: string; readonly payload: string; readonly retain: boolean }
  | { readonly kind: 'deliver'; readonly id: number; readonly topic: string; readonly payload: string }
  | { readonly kind: 'mappings'; readonly mappings: readonly PayloadMapping[] }
  | { readonly kind: 'accounts'; readonly accounts: readonly GatewayAccount[] }
  | { readonly kind: 'certificate'; readonly certificate: BrokerCertificate }
  | { readonly kind: 'release'; readonly offset: number }
  | { readonly kind: 'stop' };

export type FromWorker =
  | {
      readonly kind: 'started';
      readonly end: number;
      readonly tornTail: TornTail | null;
      readonly status: IntakeStatus;
    }
  /** An error loses its class on the way; the code of the problem identifies it. */
  | { readonly kind: 'refused'; readonly problem: Problem }
  | { readonly kind: 'journal'; readonly end: number; readonly counts: IntakeCounts }
  | { readonly kind: 'status'; readonly status: IntakeStatus }
  | { readonly kind: 'appended'; readonly id: number; readonly offset: number }
  | { readonly kind: 'not-appended'; readonly id: number; readonly problem: Problem }
  | { readonly kind: 'answered'; readonly id: number; readonly answer: BrokerAnswer }
  | { readonly kind: 'stopped' };
