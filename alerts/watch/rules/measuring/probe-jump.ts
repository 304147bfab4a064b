// A probe that stepped further than wax, water or a room can change, and stays there.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeJump = probeRule({
  kind: 'probe-jump',
  on: 'reading',
  priority: 'medium',
  looksAround: true,
  formula:
    '|T − T before| > 5 °C + 1 °C/s at heaters, 2.5 °C + 3 °C/min, at most 10 °C, at places, 50 °C + 10 °C/s at furnaces, twice or more in a row; or by ≥ 1 K and 6 times its usual change at a place, to where the probe of another one was (within 30 %, at most 1.5 K), which went to where it was within 3 min or two readings; or two heaters of one probe each by ≥ 1 K at once, further within a minute than in the ten minutes before (each 1.8 times, multiplied 9 times), to where the other was (within 35 % and what it moved before)',
  parameters: {
    told_minutes: parameter('minutes', 15, [1, 1440]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'probe-out', 'probe-loose'],
  evaluate: ({ at, signal, station }, p) => {
    const { step } = signal;
    if (step === null || at - step.at > p.told_minutes * 60_000) return 'gone';
    return {
      evidence: {
        from_celsius: step.from,
        value_celsius: step.to,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  // A step only grows older.
  staysQuiet: () => true,
});
