// Nobody is notified of alarms: no phone is subscribed, the last one is gone, or nothing gets through to any person.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const nobodySubscribed = selfRule({
  kind: 'nobody-subscribed',
  part: 'phone-subscriptions',
  priority: 'medium',
  mayBeSwitchedOff: false,
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
