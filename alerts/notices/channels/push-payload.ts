// What a push carries to the service worker of a phone: everything that it shows, so that it requests nothing more.

import type { RowKind } from '../outbox/outbox-row.ts';

export interface PushPayload {
  readonly kind: RowKind;
  readonly title: string;
  readonly body: string;
  /** Notifications of one tag replace each other. */
  readonly tag: string;
  /** Tags of older notifications about the same alarms, to be closed. */
  readonly replaces?: readonly string[];
  /** What opens on a tap. */
  readonly url: string;
  /** It stays until somebody has seen it. */
  readonly stays: boolean;
  readonly acknowledge?: {
    readonly token: string;
    readonly label: string;
    /** Shown when it did not work. */
    readonly failed: string;
  };
  /** Reported back once a test is shown. */
  readonly test?: string;
  readonly repeat?: true;
}
