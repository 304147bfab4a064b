// No phone is subscribed to alarms, or the last one is gone.

import { offDelay, onDelay } from '../parameter.ts';
import { selfRule } from '../rule.ts';

export const nobodySubscribed = selfRule({
  kind: 'nobody-subscribed',
  part: 'phone-subscriptions',
  priority: 'medium',
  mayBeSwitchedOff: false,
  sees: 'No phone is subscribed to alarms, or the last one is gone.',
  formula: 'the running process found it so',
  parameters: { on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  rationale: 'Inside the lab the wall still tells.',
  consequence: 'Nobody outside the lab hears of an overheating.',
  response: 'Subscribe the phone of whoever is on duty.',
  look: ({ ok, name, detail }) => (ok ? 'gone' : { evidence: { name, detail } }),
});
