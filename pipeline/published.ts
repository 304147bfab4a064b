// What the pipeline publishes after a commit, and what it answers to a person's act.

import type { AlarmChange } from '../alerts/watch/life/alarm.ts';

/** What the pipeline tells whoever listens, after it is committed. */
export type Happening =
  | { readonly kind: 'standings'; readonly stations: readonly string[] }
  | { readonly kind: 'alarm'; readonly change: AlarmChange }
  | { readonly kind: 'probe'; readonly probe: string }
  | { readonly kind: 'lab' };

export type ActOutcome =
  | { readonly ok: true }
  | { readonly ok: false; readonly code: string; readonly message: string };
