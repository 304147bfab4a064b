// First-order response fitted on line with forgetting: where a heater is going, how fast, and when it meets a limit.
// Newton's law dT/dt = (T∞ - T)/τ is fitted in its integral form, T(t) = T(now) + a·u - b·∫T, which is linear in
// a = T∞/τ and b = 1/τ and needs no differences of noisy readings. Source: Incropera & DeWitt, Fundamentals of Heat
// and Mass Transfer, ch. 5.1 (lumped capacitance; from memory). It refuses to fit across melting, where the
// temperature stands still while heat goes in.

import { isTemperature } from '../reading-guard.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_MINUTE, type Seconds } from '../units.ts';
import { curveAhead, type FirstOrderCurve, K95 } from './first-order-curve.ts';
import {
  fitMoments,
  type Moments,
  NO_MOMENTS,
  shiftMoments,
  standardErrorAlong,
  withRowAtOrigin,
} from '../numbers/weighted-moments.ts';

export interface FirstOrderOptions {
  /** A reading this old weighs 1/e; default 600 s. */
  readonly memory?: Seconds;
  /** A longer silence starts the fit anew, because the integral over it is unknown; default 300 s. */
  readonly longestGap?: Seconds;
  /** The probe's own noise or resolution, as a standard deviation in kelvins; default 0.03. */
  readonly noiseFloor?: number;
  /** Melting range of the wax: no fit inside it, no forecast through it. */
  readonly melting?: { readonly low: Celsius; readonly high: Celsius };
}

/** Plain JSON. */
export interface FirstOrderState {
  readonly at: EpochMillis | null;
  readonly celsius: Celsius | null;
  /** Zero point of the temperatures in the sums. */
  readonly origin: number;
  readonly moments: Moments;
  readonly squared: Moments;
  /** Readings since the fit began. */
  readonly readings: number;
  readonly since: EpochMillis | null;
  /** A reading off the curve; a second one on the same side starts the fit anew, a lone one is left out. */
  readonly doubted: { readonly at: EpochMillis; readonly celsius: Celsius; readonly side: -1 | 1 } | null;
  readonly noiseFloor: number;
  readonly melting: { readonly low: Celsius; readonly high: Celsius } | null;
  /** Readings left out: not later than the last, or not a temperature. */
  readonly skipped: number;
}

const DEFAULT_MEMORY_SECONDS = 600;
const DEFAULT_LONGEST_GAP_SECONDS = 300;
const DEFAULT_NOISE_FLOOR = 0.03;
/** Off the curve: more than five standard errors and more than this, in kelvins. */
const SMALLEST_SURPRISE = 0.25;
const SURPRISE_ERRORS = 5;
const FEWEST_READINGS = 12;
/** The temperature must have moved by this many times its noise, or the "curve" is only noise. */
const LEAST_MOVEMENT = 4;
/** 1/τ must differ from nought by this many standard errors, or the curve is still a straight line. */
const LEAST_CURVATURE = 3;

export const firstOrderStart = (): FirstOrderState => ({
  at: null,
  celsius: null,
  origin: 0,
  moments: NO_MOMENTS,
  squared: NO_MOMENTS,
  readings: 0,
  since: null,
  doubted: null,
  noiseFloor: DEFAULT_NOISE_FLOOR,
  melting: null,
  skipped: 0,
});

/** Why there is no forecast. */
export type FirstOrderRefusal = 'too-few-readings' | 'melting' | 'at-rest';

/** The curve, or why there is none. */
export function firstOrderCurve(state: FirstOrderState): FirstOrderCurve | FirstOrderRefusal {
  const fitted = fitCurves(state);
  return typeof fitted === 'string' ? fitted : fitted.chosen;
}

/** The curve that the readings support, and the other shape that they leave possible. */
export interface FittedCurves {
  readonly chosen: FirstOrderCurve;
  readonly alternative: FirstOrderCurve | null;
}

const fittedBefore = new WeakMap<FirstOrderState, FittedCurves | FirstOrderRefusal>();

/** Worked out once for a state: a forecast needs it, and then the next reading, which it must explain. */
export function fitCurves(state: FirstOrderState): FittedCurves | FirstOrderRefusal {
  const before = fittedBefore.get(state);
  if (before !== undefined) return before;
  const fitted = fitAnew(state);
  fittedBefore.set(state, fitted);
  return fitted;
}

function fitAnew(state: FirstOrderState): FittedCurves | FirstOrderRefusal {
  if (isMelting(state)) return 'melting';
  if (state.readings < FEWEST_READINGS) return 'too-few-readings';
  const straight = fitMoments(state.moments, state.squared, 2, state.noiseFloor);
  if (straight === null) return 'too-few-readings';
  const curved = fitMoments(state.moments, state.squared, 3, state.noiseFloor);
  const { one, y, yy } = state.moments;
  const movement = Math.sqrt(Math.max(0, yy / one - (y / one) ** 2));
  if (movement < LEAST_MOVEMENT * (curved ?? straight).noise) return 'at-rest';
  const line: FirstOrderCurve = { kind: 'straight', fit: straight };
  if (curved === null) return { chosen: line, alternative: null };
  const bend: FirstOrderCurve = { kind: 'first-order', fit: curved };
  const rate = -(curved.coefficients[2] ?? 0);
  const rateError = Math.sqrt(Math.max(0, curved.covariance[2]?.[2] ?? 0));
  return rate > LEAST_CURVATURE * rateError
    ? { chosen: bend, alternative: null }
    : { chosen: line, alternative: bend };
}

const isMelting = ({ celsius, melting }: Pick<FirstOrderState, 'celsius' | 'melting'>): boolean =>
  celsius !== null && melting !== null && celsius >= melting.low && celsius <= melting.high;

/** Takes one reading in; late and impossible ones are counted in `skipped` and change nothing else. */
export function firstOrderStep(
  state: FirstOrderState,
  at: EpochMillis,
  celsius: Celsius,
  options: FirstOrderOptions = {},
): FirstOrderState {
  if (!Number.isFinite(at) || !isTemperature(celsius) || (state.at !== null && at <= state.at))
    return { ...state, skipped: state.skipped + 1 };
  const settings = {
    noiseFloor: options.noiseFloor ?? DEFAULT_NOISE_FLOOR,
    melting: options.melting ?? null,
  };
  const { melting } = settings;
  const minutes = (at - (state.at ?? at)) / MILLIS_PER_MINUTE;
  const isAnew = state.at === null || minutes * 60 > (options.longestGap ?? DEFAULT_LONGEST_GAP_SECONDS);
  if (isAnew || isMelting({ celsius, melting }) || isMelting({ celsius: state.celsius, melting }))
    return { ...beginFit(at, celsius), ...settings, skipped: state.skipped };

  const side = surprise(state, minutes, celsius);
  if (side !== 0) {
    const { doubted } = state;
    if (doubted === null || doubted.side !== side) return { ...state, doubted: { at, celsius, side } };
    const restarted = { ...beginFit(doubted.at, doubted.celsius), ...settings, skipped: state.skipped };
    return at > doubted.at ? absorb(restarted, at, celsius, options) : restarted;
  }
  return absorb({ ...state, ...settings, doubted: null }, at, celsius, options);
}

const beginFit = (at: EpochMillis, celsius: Celsius): FirstOrderState => ({
  ...firstOrderStart(),
  at,
  celsius,
  origin: celsius,
  moments: withRowAtOrigin(NO_MOMENTS, 0),
  squared: withRowAtOrigin(NO_MOMENTS, 0),
  readings: 1,
  since: at,
});

function absorb(
  state: FirstOrderState,
  at: EpochMillis,
  celsius: Celsius,
  options: FirstOrderOptions,
): FirstOrderState {
  const minutes = (at - (state.at ?? at)) / MILLIS_PER_MINUTE;
  const keep = Math.exp((-60 * minutes) / (options.memory ?? DEFAULT_MEMORY_SECONDS));
  const y = celsius - state.origin;
  const area = (minutes * (y + (state.celsius ?? celsius) - state.origin)) / 2;
  return {
    ...state,
    at,
    celsius,
    moments: withRowAtOrigin(shiftMoments(state.moments, minutes, area, keep), y),
    squared: withRowAtOrigin(shiftMoments(state.squared, minutes, area, keep * keep), y),
    readings: state.readings + 1,
  };
}

/** -1 or 1 when the reading lies below or above what the curve can explain, else 0. */
function surprise(state: FirstOrderState, minutes: number, celsius: number): -1 | 0 | 1 {
  const curve = firstOrderCurve(state);
  const fit =
    typeof curve === 'object'
      ? curve.fit
      : curve === 'at-rest'
        ? fitMoments(state.moments, state.squared, 2, state.noiseFloor)
        : null;
  if (fit === null) return 0;
  const kind = typeof curve === 'object' ? curve.kind : 'straight';
  const expected = curveAhead({ kind, fit }, minutes);
  const off = celsius - state.origin - expected.value;
  const allowed = Math.max(SMALLEST_SURPRISE, SURPRISE_ERRORS * Math.hypot(fit.noise, expected.error));
  return Math.abs(off) <= allowed ? 0 : off > 0 ? 1 : -1;
}

export interface FirstOrderForecast {
  /** The smoothed temperature at the newest reading. */
  readonly now: Celsius;
  readonly degreesPerMinute: number;
  /** Where it settles if nothing changes, with an approximate 95 % band. */
  readonly asymptote: Celsius;
  readonly asymptoteLow: number;
  readonly asymptoteHigh: number;
  readonly timeConstant: Seconds;
  readonly timeConstantLow: Seconds;
  readonly timeConstantHigh: Seconds;
  /** Standard deviation of a reading about the curve, in kelvins. */
  readonly noise: number;
  readonly readings: number;
}

/**
 * Asymptote and time constant of the newest stretch; null while it is short, still straight, at rest or melting
 * (`firstOrderCurve` states which). Limits: one time constant; steady surroundings; readings closer than τ/5.
 */
export function firstOrderForecast(state: FirstOrderState): FirstOrderForecast | null {
  const curve = firstOrderCurve(state);
  if (typeof curve !== 'object' || curve.kind !== 'first-order') return null;
  const [now = 0, a = 0, negativeRate = 0] = curve.fit.coefficients;
  const rate = -negativeRate;
  const rateError = Math.sqrt(curve.fit.covariance[2]?.[2] ?? 0);
  const asymptote = state.origin + a / rate;
  const asymptoteError = standardErrorAlong(curve.fit, [0, 1 / rate, a / rate ** 2]);
  const secondsOf = (perMinute: number): Seconds => (60 / perMinute) as Seconds;
  return {
    now: (state.origin + now) as Celsius,
    degreesPerMinute: a - rate * now,
    asymptote: asymptote as Celsius,
    asymptoteLow: asymptote - K95 * asymptoteError,
    asymptoteHigh: asymptote + K95 * asymptoteError,
    timeConstant: secondsOf(rate),
    timeConstantLow: secondsOf(rate + K95 * rateError),
    timeConstantHigh: secondsOf(rate - K95 * rateError),
    noise: curve.fit.noise,
    readings: state.readings,
  };
}
