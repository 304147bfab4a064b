// The disk is nearly full, cannot be written, or the last copy is old.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const diskFailing = selfRule({
  kind: 'disk-failing',
  part: 'disk',
  priority: 'high',
  mayBeSwitchedOff: false,
  detects: 'The disk is nearly full, cannot be written, or the last copy is old.',
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  rationale: 'When it fails, no reading can be kept.',
  consequence: 'Readings are refused; a failed disk takes the history with it.',
  response: 'Make room or replace the disk; check the last copy.',
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
