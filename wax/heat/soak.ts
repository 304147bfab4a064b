// When is the wax soft to the core? For a bath, annealer or lamp whose temperature is read as it changes, by the
// conservative scheme, reading by reading; for steady surroundings by the full series, which the scheme is checked with.
// Limits: constant properties, no melting inside; the surface coefficient is the weakest figure by far.

import { conductionSeries } from './conduction-series.ts';
import { isTemperature, isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import { diffusivity, type SoakBody } from './soak-body.ts';
import { cellCount, soakGrid, soakSweep } from './soak-scheme.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_SECOND, type Seconds } from '../units.ts';

/** θ of the core (or of the body's mean) after `seconds` in constant surroundings: 1 untouched, 0 through. */
export function soakTheta(
  body: SoakBody,
  place: 'core' | 'surface' | 'mean' = 'core',
): (seconds: number) => number {
  const alpha = diffusivity(body.material);
  const factors = body.axes.map((axis, i) => {
    // "Surface" is the middle of the face of the first direction.
    const at = place === 'mean' ? 'mean' : place === 'surface' && i === 0 ? 1 : 0;
    const biot = (body.surface * axis.half) / body.material.conductivity;
    return { theta: conductionSeries(axis.geometry, biot, at), perSecond: alpha / axis.half ** 2 };
  });
  return (seconds) =>
    factors.reduce((product, { theta, perSecond }) => product * theta(perSecond * seconds), 1);
}

/** Temperature of core, surface or mean after `seconds` in constant surroundings. */
export function soakCelsius(
  body: SoakBody,
  start: Celsius,
  outside: Celsius,
  seconds: number,
  place: 'core' | 'surface' | 'mean' = 'core',
): Result<Celsius> {
  if (!isWithin(seconds, 0)) return failure('bad-duration', {}, seconds);
  if (!isTemperature(start) || !isTemperature(outside))
    return failure('not-a-temperature', {}, `${start}, ${outside}`);
  return success((outside + (start - outside) * soakTheta(body, place)(seconds)) as Celsius);
}

const LONGEST_SOAK_SECONDS = 48 * 3600;

/** Seconds until the core of a body, `start` °C throughout, has reached `softAt` in constant surroundings. */
export function softToTheCoreAfter(
  body: SoakBody,
  start: Celsius,
  outside: Celsius,
  softAt: Celsius,
): Result<Seconds> {
  if (![start, outside, softAt].every(isTemperature))
    return failure('not-a-temperature', {}, `${start}, ${outside}, ${softAt}`);
  if (start >= softAt) return success(0 as Seconds);
  if (outside <= softAt) return failure('never-soft', {}, `${outside} °C for ${softAt} °C`);
  const theta = soakTheta(body);
  const wanted = (softAt - outside) / (start - outside);
  if (theta(LONGEST_SOAK_SECONDS) > wanted)
    return failure('never-soft', {}, `${outside} °C for ${softAt} °C`);
  let [low, high] = [0, LONGEST_SOAK_SECONDS];
  for (let halving = 0; halving < 50; halving++) {
    const middle = (low + high) / 2;
    if (theta(middle) > wanted) low = middle;
    else high = middle;
  }
  return success(high as Seconds);
}

/** Plain JSON. */
export interface SoakState {
  readonly at: EpochMillis;
  readonly outside: Celsius;
  readonly cells: number;
  readonly temperatures: readonly number[];
  /** Late and impossible readings left out. */
  readonly skipped: number;
}

const DEFAULT_CELLS = 10;
/** Longest step of the scheme; a longer interval between readings is cut, the surroundings running straight. */
const LONGEST_STEP_SECONDS = 10;

/**
 * A body laid in at `at`, `start` °C throughout, into surroundings of `outside` °C.
 * @throws RangeError for what is no temperature or instant, or fewer than two cells.
 */
export const soakStart = (
  body: SoakBody,
  at: EpochMillis,
  start: Celsius,
  outside: Celsius,
  cells = DEFAULT_CELLS,
): SoakState => {
  if (!isTemperature(start) || !isTemperature(outside) || !Number.isFinite(at) || !(cells >= 2))
    throw new RangeError(`soakStart: at ${at}, ${start} °C into ${outside} °C, ${cells} cells`);
  const temperatures = new Array<number>(cellCount(soakGrid(body, cells))).fill(start);
  return { at, outside, cells, temperatures, skipped: 0 };
};

/** Takes one reading of the surroundings in; between readings they are taken to have changed in a straight line. */
export function soakStep(state: SoakState, body: SoakBody, at: EpochMillis, outside: Celsius): SoakState {
  if (!Number.isFinite(at) || !isTemperature(outside) || at <= state.at)
    return { ...state, skipped: state.skipped + 1 };
  const grid = soakGrid(body, state.cells);
  const whole = (at - state.at) / MILLIS_PER_SECOND;
  const steps = Math.ceil(whole / LONGEST_STEP_SECONDS);
  let { temperatures } = state;
  for (let step = 1; step <= steps; step++) {
    // Middle of the step: the scheme then takes in exactly the heat of the straight line.
    const then = state.outside + ((outside - state.outside) * (step - 0.5)) / steps;
    temperatures = soakSweep(grid, temperatures, then, whole / steps).temperatures;
  }
  return { ...state, at, outside, temperatures };
}

/** Core: the innermost cell of every direction. */
export const soakCore = (state: SoakState): Celsius => (state.temperatures[0] ?? Number.NaN) as Celsius;

/** When the core will be soft if the surroundings stay as they are now; the state's own instant if it is soft. */
export function softToTheCoreAt(state: SoakState, body: SoakBody, softAt: Celsius): Result<EpochMillis> {
  if (!isTemperature(softAt)) return failure('not-a-temperature', {}, softAt);
  if (soakCore(state) >= softAt) return success(state.at);
  if (!(state.outside > softAt)) return failure('never-soft', {}, `${state.outside} °C for ${softAt} °C`);
  const grid = soakGrid(body, state.cells);
  let [temperatures, seconds] = [state.temperatures, 0];
  // Steps grow with the soak so far: the further off, the less a second matters (about 1 % of the time ahead).
  for (let step = 2; seconds < LONGEST_SOAK_SECONDS; step = Math.max(step, 0.02 * seconds)) {
    const next = soakSweep(grid, temperatures, state.outside, step).temperatures;
    const [before = softAt, after = softAt] = [temperatures[0], next[0]];
    if (after >= softAt) {
      const share = (softAt - before) / (after - before);
      return success((state.at + (seconds + share * step) * MILLIS_PER_SECOND) as EpochMillis);
    }
    temperatures = next;
    seconds += step;
  }
  return failure('never-soft', {}, `${state.outside} °C for ${softAt} °C`);
}
