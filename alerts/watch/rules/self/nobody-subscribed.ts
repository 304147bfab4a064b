// Nobody is told of alarms: no phone is subscribed, the last one is gone, or nothing gets through to any person.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { selfRule } from '../../rule/rule.ts';

export const nobodySubscribed = selfRule({
  kind: 'nobody-subscribed',
  part: 'phone-subscriptions',
  priority: 'medium',
  mayBeSwitchedOff: false,
  detects: 'Nobody is told of alarms: the last phone is gone, or an open alarm got through to no person.',
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  rationale: 'Inside the lab the wall still tells.',
  consequence: 'Nobody outside the lab hears of an overheating.',
  response: 'Tell whoever is on duty yourself; subscribe their phone and send a test.',
  evaluate: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
