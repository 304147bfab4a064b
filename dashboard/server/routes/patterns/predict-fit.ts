// What was predicted of a waiting pattern at the moment of a measurement or of its investing, to be written down with it:
// entered on Monday, Friday's measurement appears beside Friday's prediction.

import { patternsWaxClass } from '../../../../lab/limits.ts';
import type { Pattern } from '../../../../lab/pattern.ts';
import { patternLife } from '../../../../lab/patterns/pattern-life.ts';
import type { PredictedFit } from '../../../../lab/predicted-fit.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { iso } from '../../../../wax/iso.ts';

/** Undefined where nothing is predicted: it ended, or no temperature of it is known. */
export const predictFit = (
  running: RunningLab,
  pattern: Pattern,
  asOf: EpochMillis,
): PredictedFit | undefined => {
  const outlook = pattern.fate === null ? running.patternOutlook?.(pattern.id, asOf) : undefined;
  if (outlook === undefined || outlook.verdict.permanent === null) return undefined;
  const { at, permanent, values } = outlook.verdict;
  const { periods, misfit } = patternLife(pattern, at);
  const hours = (isCounted: (isHeld: boolean) => boolean): number =>
    periods
      .filter(({ isHeld }) => isCounted(isHeld))
      .reduce((sum, { from, to }) => sum + (to - from) / MILLIS_PER_HOUR, 0);
  return {
    at: iso(at),
    likely_micrometres: values.likely_micrometres ?? permanent.likely,
    low_micrometres: values.low_micrometres ?? permanent.low,
    high_micrometres: values.high_micrometres ?? permanent.high,
    permanent_micrometres: permanent.likely - misfit,
    frozen_strain: patternsWaxClass(pattern, running.lab()).relaxation.frozenStrain[pattern.technique].value,
    stored_hours: hours(() => true),
    held_hours: hours((isHeld) => isHeld),
    mean_kinetic_celsius: outlook.meanKineticCelsius,
    too_warm_minutes: outlook.minutesTooWarm,
    swings: outlook.swings,
  };
};
