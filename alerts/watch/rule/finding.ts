// What a rule reports: its condition begins when it held for the on-delay, ends when it was gone for the off-delay.

import type { EpochMillis } from '../../../wax/units.ts';

/** Numbers and names behind a finding; keys carry their units, so that a screen can convert and word them. */
export type Evidence = Readonly<Record<string, number | string>>;

export type SubjectKind = 'station' | 'probe' | 'gateway' | 'pattern' | 'site';

export interface Reported {
  /** `now` for a live finding; `learned` for one that late readings reveal: it happened then, and is known now. */
  readonly tense: 'now' | 'learned';
  readonly phase: 'begins' | 'updates' | 'ends';
  readonly evidence: Evidence;
  /** Of the end of a learned one: when it had begun. */
  readonly since?: EpochMillis;
  /** Of an end: it got worse after it was last reported; `evidence` is of the worst. */
  readonly isWorse?: boolean;
}
