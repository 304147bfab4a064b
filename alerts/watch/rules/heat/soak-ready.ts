// A load is soft to the core.

import { offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { isSoftToTheCore } from '../../measures/load.ts';
import { soakMinutes, soakPiece, soaks } from './soak-time.ts';

export const soakReady = stationRule({
  kind: 'soak-ready',
  priority: 'notice',
  extremes: [],
  formula:
    'in, minutes at or above window low ≥ needed minutes, and core ≥ min(transition high, window low − 1 °C)',
  parameters: {
    needed_minutes: soakMinutes,
    ...soakPiece,
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: soaks,
  evaluate: ({ load }, p) => {
    if (
      load === null ||
      load.takenOutAt !== null ||
      load.soakedMinutes < p.needed_minutes ||
      !isSoftToTheCore(load)
    )
      return 'gone';
    return { evidence: { load: load.load, soaked_minutes: load.soakedMinutes } };
  },
  staysQuiet: ({ load }) => load === null,
});
