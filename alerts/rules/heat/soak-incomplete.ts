// A load was taken out before it was soft to the core.

import { offDelay, onDelay, parameter } from '../parameter.ts';
import { stationRule } from '../rule.ts';
import { soakMinutes, soaks } from './soak-time.ts';

export const soakIncomplete = stationRule({
  kind: 'soak-incomplete',
  priority: 'medium',
  sees: 'A load recorded as taken out before its time at the softening temperature was full.',
  formula: 'taken out, and minutes at or above window low < needed minutes',
  parameters: {
    needed_minutes: soakMinutes,
    told_minutes: parameter('after this it has been shaped anyway', 'minutes', 30, [1, 480]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  rationale: 'It can still be put back for some minutes.',
  consequence: 'Strains are frozen in when it is shaped.',
  response: 'Put it back until it is soft to the core.',
  appliesTo: soaks,
  look: ({ load, at }, p) => {
    if (load === null || load.takenOutAt === null || load.soakedMinutes >= p.needed_minutes) return 'gone';
    if (at - load.takenOutAt > p.told_minutes * 60_000) return 'gone';
    return {
      evidence: { load: load.load, soaked_minutes: load.soakedMinutes, needed_minutes: p.needed_minutes },
    };
  },
});
