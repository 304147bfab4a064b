// What the pipeline publishes after a commit, and what it answers to a person's act.

import type { StationStatus } from '../alerts/watch/engine/station-status.ts';
import type { AlarmChange } from '../alerts/watch/life/alarm.ts';
import type { Refusal } from '../alerts/watch/life/refusal.ts';

/** One change of the lab, with what changed, so that no listener need look it up. */
export type LabChange =
  | { readonly kind: 'statuses'; readonly statuses: readonly StationStatus[] }
  | { readonly kind: 'alarm'; readonly change: AlarmChange }
  /** Ids of the probes that have new readings. */
  | { readonly kind: 'probes'; readonly probes: readonly string[] }
  /** What the lab has was changed. */
  | { readonly kind: 'lab' };

export type ActOutcome = { readonly ok: true } | ({ readonly ok: false } & Refusal);
