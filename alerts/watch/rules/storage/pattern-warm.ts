// Patterns lie where it is too warm for their own wax, though the place itself has no limit or another wax.

import { stores } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const patternWarm = stationRule({
  kind: 'pattern-warm',
  priority: 'high',
  extremes: ['highest'],
  formula: 'T > storage limit of the wax of the pattern, where that is below the limit of the place',
  parameters: { on_delay_seconds: onDelay(600), off_delay_seconds: offDelay(600) },
  hiddenBehind: ['storage-warm'],
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ patterns, celsius, limits }) => {
    // What the limit of the place covers is the matter of that limit.
    const covered = limits.storageMax?.value ?? Number.POSITIVE_INFINITY;
    const warm = patterns.filter(({ tooWarm, storageMax }) => tooWarm && storageMax < covered);
    const first = warm[0];
    if (first === undefined) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        limit_celsius: Math.min(...warm.map(({ storageMax }) => storageMax)),
        patterns_count: warm.length,
        pattern: first.pattern,
      },
      worst: warm.length,
    };
  },
  updateStep: 1,
  staysQuiet: ({ patterns }) => patterns.length === 0,
});
