// A probe that jumped further than wax, water or a room can change.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeJump = probeRule({
  kind: 'probe-jump',
  on: 'reading',
  priority: 'low',
  detects: 'Two readings within a minute that differ by more than 15 °C.',
  formula: '|T − T before| > 15 °C within 60 s',
  parameters: {
    told_minutes: parameter('over when it has not jumped for so long', 'minutes', 10, [1, 1440]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  rationale: 'A probe was moved or its contact is loose.',
  consequence: 'The station is judged by a value of another place.',
  response: 'Check that the probe sits where it belongs.',
  hiddenBehind: ['fire-risk', 'over-ceiling'],
  evaluate: ({ signal, at, station }, p) => {
    const { jump } = signal;
    if (jump === null || at - jump.at > p.told_minutes * 60_000) return 'gone';
    return {
      evidence: {
        from_celsius: jump.from,
        value_celsius: jump.to,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
});
