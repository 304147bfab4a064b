// Whether a bent-stick test has fixed the parameters of the relaxation model, and if not, what to do about it.
// The thresholds are this project's: they demand a prediction that is worth more than the generic one.

import type { BentStickTest } from './bent-stick-test.ts';

export interface FittedValue {
  readonly value: number;
  readonly standardError: number;
  /** 95 % confidence interval; for amplitude and tau computed on the logarithm. */
  readonly low: number;
  readonly high: number;
}

export interface OpeningResidual {
  /** Number of the stick, from 1. */
  readonly stick: number;
  readonly hours: number;
  readonly measured: number;
  readonly fitted: number;
}

/** Why a test does not determine how the wax relaxes. */
export const CALIBRATION_DOUBTS = [
  'temperatures-too-close',
  'too-short',
  'final-opening-unknown',
  'tau-unknown',
  'beta-unknown',
  'activation-energy-unknown',
  'at-the-edge',
  'curve-does-not-fit',
] as const;

export type CalibrationDoubt = (typeof CALIBRATION_DOUBTS)[number];

export type CalibrationVerdict =
  | { readonly kind: 'fixed' }
  | { readonly kind: 'not-fixed'; readonly doubts: readonly CalibrationDoubt[] };

export interface CalibrationEvidence {
  readonly test: BentStickTest;
  /** Final opening, mm. */
  readonly amplitude: FittedValue;
  /** Seconds. */
  readonly tau: FittedValue;
  readonly beta: FittedValue;
  /** J/mol. */
  readonly activationEnergy: FittedValue;
  /** Standard deviation of a reading about the fit, mm. */
  readonly scatter: number;
  readonly residuals: readonly OpeningResidual[];
  readonly atEdge: boolean;
  /** Largest share of the final opening that a stick has reached. */
  readonly releasedShare: number;
}

const LEAST_APART_KELVINS = 5;
const LEAST_RELEASED = 0.3;
/** Upper end of the 95 % interval over the value. */
const WIDEST_AMPLITUDE = 2;
const WIDEST_TAU = 3;
const WIDEST_BETA = 0.2;
const WIDEST_ENERGY = 0.5;
/** Scatter over the stated error of a reading. */
const MOST_SCATTER = 2;
/** Fewer changes of side than this many standard deviations below what chance gives (runs test, Wald & Wolfowitz 1940). */
const FEWEST_RUNS_DEVIATIONS = -3;

export function calibrationVerdict(evidence: CalibrationEvidence): CalibrationVerdict {
  const { amplitude, tau, beta, activationEnergy, test } = evidence;
  const found: Record<CalibrationDoubt, boolean> = {
    'temperatures-too-close': temperatureSpan(test) < LEAST_APART_KELVINS,
    'too-short': evidence.releasedShare < LEAST_RELEASED,
    'final-opening-unknown': amplitude.high > WIDEST_AMPLITUDE * amplitude.value,
    'tau-unknown': tau.high > WIDEST_TAU * tau.value,
    'beta-unknown': beta.high - beta.value > WIDEST_BETA,
    'activation-energy-unknown':
      activationEnergy.high - activationEnergy.value > WIDEST_ENERGY * activationEnergy.value,
    'at-the-edge': evidence.atEdge,
    'curve-does-not-fit':
      evidence.scatter > MOST_SCATTER * (test.readingError ?? Infinity) ||
      runsDeviation(evidence.residuals) < FEWEST_RUNS_DEVIATIONS,
  };
  const doubts = (Object.keys(found) as CalibrationDoubt[]).filter((doubt) => found[doubt]);
  return doubts.length === 0 ? { kind: 'fixed' } : { kind: 'not-fixed', doubts };
}

function temperatureSpan({ sticks }: BentStickTest): number {
  const all = sticks.flatMap(({ celsius }) =>
    typeof celsius === 'number' ? [celsius] : celsius.map((place) => place.celsius),
  );
  return Math.max(...all) - Math.min(...all);
}

/** How many standard deviations the number of runs of one sign lies from chance; stick by stick, summed. */
function runsDeviation(residuals: readonly OpeningResidual[]): number {
  let [off, variance] = [0, 0];
  for (const stick of new Set(residuals.map((residual) => residual.stick))) {
    const signs = residuals
      .filter((residual) => residual.stick === stick)
      .map(({ measured, fitted }) => measured > fitted);
    const n = signs.length;
    const above = signs.filter(Boolean).length;
    const product = 2 * above * (n - above);
    if (n < 2 || product === 0) continue;
    const runs = 1 + signs.filter((sign, i) => i > 0 && sign !== signs[i - 1]).length;
    off += runs - (product / n + 1);
    variance += (product * (product - n)) / (n * n * (n - 1));
  }
  return variance > 0 ? off / Math.sqrt(variance) : 0;
}
