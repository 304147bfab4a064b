// A load is soft to the core.

import { offDelay, onDelay } from '../parameter.ts';
import { stationRule } from '../rule.ts';
import { soakMinutes, soaks } from './soak-time.ts';

export const soakReady = stationRule({
  kind: 'soak-ready',
  priority: 'notice',
  sees: 'A load that has been at the softening temperature for long enough.',
  formula: 'in, and minutes at or above window low ≥ needed minutes',
  parameters: { needed_minutes: soakMinutes, on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  rationale: 'It tells that work can go on.',
  consequence: 'None: it may lie longer.',
  response: 'None.',
  appliesTo: soaks,
  look: ({ load }, p) => {
    if (load === null || load.takenOutAt !== null || load.soakedMinutes < p.needed_minutes) return 'gone';
    return { evidence: { load: load.load, soaked_minutes: load.soakedMinutes } };
  },
});
