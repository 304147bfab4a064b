// The store does not answer or does not take readings.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const storeFailing = selfRule({
  kind: 'store-failing',
  part: 'store',
  priority: 'high',
  mayBeSwitchedOff: false,
  detects: 'The store does not answer or does not take readings.',
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  rationale: 'Nothing is lost while the journal has room, but nobody sees charts grow.',
  consequence: 'Later the journal fills the disk.',
  response: 'Check that the store runs and can be reached.',
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
