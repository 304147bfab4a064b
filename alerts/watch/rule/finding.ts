// What a rule concluded: begins when its condition held for the on-delay, ends when it was gone for the off-delay.

import type { EpochMillis } from '../../../wax/units.ts';
import type { RuleKind } from './rule-kind.ts';

/** Numbers and names behind a finding; keys carry their units, so that a screen can convert and word them. */
export type Evidence = Readonly<Record<string, number | string>>;

export type SubjectKind = 'station' | 'probe' | 'gateway' | 'pattern' | 'site';

export interface Finding {
  readonly rule: RuleKind;
  /** Station id; or a probe's, gateway's or pattern's own id; `site` for the watcher itself. */
  readonly subject: string;
  readonly subjectKind: SubjectKind;
  /** `now` for a live finding; `learned` for one that late readings reveal: it happened then, and is known now. */
  readonly tense: 'now' | 'learned';
  readonly phase: 'begins' | 'updates' | 'ends';
  /** Sample time. */
  readonly at: EpochMillis;
  readonly evidence: Evidence;
}
