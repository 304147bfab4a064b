// The disk is nearly full or cannot be written, or the last copy of the data is old.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const diskFailing = selfRule({
  kind: 'disk-failing',
  part: 'disk',
  priority: 'high',
  mayBeSwitchedOff: false,
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
