// When a stored pattern will meet its tolerance: if it stays as warm as it lies now, or along a forecast of the
// coming temperatures. Beyond the forecast its last temperature is held. Ten years ahead counts as never.

import { problemLine } from './result.ts';
import {
  type PatternFacts,
  refuseImpossible,
  releasedMicrometres,
  thermalMicrometres,
} from './predicted-error.ts';
import { checkedSeries, isWithin, type TimedCelsius } from './reading-guard.ts';
import { likelyReducedSeconds, type RelaxationState } from './reduced-time.ts';
import { likelyCorner, type ParameterCorner, type RelaxationParameters } from './relaxation-parameters.ts';
import { meanThermalFactor } from './thermal-rate.ts';
import {
  type Celsius,
  type EpochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_SECOND,
  type Micrometres,
} from './units.ts';
import type { WaxClass } from './classes/wax-properties.ts';

const HORIZON_MILLIS = 3652.5 * MILLIS_PER_DAY;

/** Along a forecast the error is tried at steps of this, so that a short peak cannot slip through. */
const STEP_CELSIUS = 0.25;
/** Halvings of a step; ten years become less than a millisecond. */
const HALVINGS = 50;

interface Course {
  readonly state: RelaxationState;
  readonly pattern: PatternFacts;
  readonly wax: WaxClass;
  readonly params: RelaxationParameters;
  readonly tolerance: Micrometres;
  readonly forecast?: readonly TimedCelsius[];
}

/** From now on: straight lines through the forecast, then level. */
const path = ({ state, pattern, forecast = [] }: Course): readonly TimedCelsius[] => {
  const celsius = state.readings > 0 ? state.celsius : pattern.fittedCelsius;
  if (forecast.length > 0) {
    const checked = checkedSeries(forecast);
    if (!checked.ok) throw new RangeError(`instantOfTolerance: forecast: ${problemLine(checked.problem)}`);
  }
  const ahead = forecast.filter((point) => point.at > state.at);
  const end = ahead.at(-1);
  return [
    { at: state.at, celsius },
    ...ahead,
    { at: (state.at + HORIZON_MILLIS) as EpochMillis, celsius: end?.celsius ?? celsius },
  ];
};

const firstInstant = (course: Course, corner: ParameterCorner, reducedNow: number): EpochMillis | null => {
  const { pattern, wax, params, tolerance } = course;
  refuseImpossible(pattern);
  if (!isWithin(tolerance, Number.MIN_VALUE)) throw new RangeError(`tolerance: ${tolerance} µm`);
  const isMet = (reduced: number, celsius: number) =>
    releasedMicrometres(corner, reduced, pattern.length) +
      thermalMicrometres(pattern, wax, celsius as Celsius) >=
    tolerance;
  let [here, ...rest] = path(course);
  if (here === undefined) return null;
  let reduced = reducedNow;
  if (isMet(reduced, here.celsius)) return here.at;
  for (const next of rest) {
    const from = here;
    const steps = Math.max(1, Math.ceil(Math.abs(next.celsius - from.celsius) / STEP_CELSIUS));
    for (let step = 0; step < steps; step += 1) {
      const celsiusAt = (part: number) =>
        from.celsius + ((next.celsius - from.celsius) * (step + part)) / steps;
      const millis = (next.at - from.at) / steps;
      const start = celsiusAt(0);
      const reducedAt = (part: number) =>
        reduced +
        ((millis * part) / MILLIS_PER_SECOND) * meanThermalFactor(params.rate, start, celsiusAt(part));
      if (isMet(reducedAt(1), celsiusAt(1))) {
        let [before, after] = [0, 1];
        for (let halving = 0; halving < HALVINGS; halving += 1) {
          const middle = (before + after) / 2;
          if (isMet(reducedAt(middle), celsiusAt(middle))) after = middle;
          else before = middle;
        }
        return Math.round(from.at + millis * (step + after)) as EpochMillis;
      }
      reduced = reducedAt(1);
    }
    here = next;
  }
  return null;
};

/**
 * The instant with the parameters as they are; the instant of the state if it is met already; null for never.
 * @throws RangeError for a tolerance not above 0, an impossible pattern, or a forecast that `checkedSeries` refuses.
 */
export const instantOfTolerance = (
  state: RelaxationState,
  pattern: PatternFacts,
  wax: WaxClass,
  params: RelaxationParameters,
  tolerance: Micrometres,
  forecast?: readonly TimedCelsius[],
): EpochMillis | null =>
  firstInstant(
    { state, pattern, wax, params, tolerance, ...(forecast && { forecast }) },
    likelyCorner(params, pattern.technique),
    likelyReducedSeconds(state),
  );
