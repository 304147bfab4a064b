// What a rule concluded, and about whom.

import type { EpochMillis } from '../../../wax/units.ts';
import type { Reported, SubjectKind } from '../rule/finding.ts';
import type { RuleKind } from '../rules/all-rules.ts';

export interface Finding extends Reported {
  readonly rule: RuleKind;
  /** Station id; or a probe's, gateway's or pattern's own id; `site` for the watcher itself. */
  readonly subject: string;
  readonly subjectKind: SubjectKind;
  /** Sample time. */
  readonly at: EpochMillis;
}
