// The store does not answer or does not take readings.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const storeFailing = selfRule({
  kind: 'store-failing',
  part: 'store',
  priority: 'high',
  mayBeSwitchedOff: false,
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
