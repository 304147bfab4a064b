// Judges readings that are in the journal: calibration correction, plausibility, the power-on value of digital
// probes, and one probe id from two gateways. It sets qualities; it deletes nothing that may be true.
// A pure reducer behind the journal, so that a replay judges the same.

import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Rejection } from '../decode/rejection.ts';

/** Plain JSON in parts, `probe/{id}` and `gateway/{id}`; parts are replaced, never mutated. */
export type QualifyState = Readonly<Record<string, unknown>>;

export interface QualifyStep {
  readonly state: QualifyState;
  readonly changedParts: readonly string[];
  /** The entry to store and to hand to the rules; null when nothing of it is left. */
  readonly entry: Entry | null;
  readonly rejections: readonly Rejection[];
}

export type Qualify = (state: QualifyState, entry: Entry, lab: Lab) => QualifyStep;
