// A way out for alarms (phone, e-mail, webhook, lamp) has failed again and again.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const channelFailing = selfRule({
  kind: 'channel-failing',
  part: 'channel',
  priority: 'high',
  mayBeSwitchedOff: false,
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
