// A thousand pattern lives by a model that is not ours: sixteen relaxation times of their own rates instead of one stretched
// exponential, each life with its own wax, activation energy and die, drawn from a seed. What the verdict must hold
// against: its band covers nine truths in ten, and nobody is asked to remake what is inside its tolerance.

import { randomLcg, randomNormal, randomUniform } from 'd3-random';
import { describe, expect, it } from 'vitest';
import type { LifeAct, Pattern } from '../../lab/pattern.ts';
import { patternCare } from '../../lab/pattern-care.ts';
import { patternLife } from '../../lab/patterns/pattern-life.ts';
import { type PatternVerdict, patternVerdict } from '../../lab/patterns/pattern-verdict.ts';
import { type CoursePoint, relaxationParameters } from '../../wax/relaxation/relaxation.ts';
import { type Celsius, epochMillis, GAS_CONSTANT, MILLIS_PER_HOUR } from '../../wax/units.ts';
import { waxClass } from '../../wax/wax-class.ts';

const LIVES = 1000;
const MODES = 16;
const STEP_HOURS = 0.25;
const MADE = Date.parse('2026-03-04T08:00:00Z');
const generic = waxClass('inlay-type-2');
const { tau, activationEnergy, reference, frozenStrain, spread } = generic.relaxation;
const instantAfter = (hours: number) => epochMillis(MADE + Math.round(hours * MILLIS_PER_HOUR));
const iso = (hours: number) => new Date(instantAfter(hours)).toISOString();

interface Truth {
  /** Relaxation times at the reference temperature, s. */
  readonly times: readonly number[];
  readonly energy: number;
  readonly strain: number;
  /** Share of the release that its die lets through. */
  readonly throughDie: number;
}

interface Life {
  readonly pattern: Pattern;
  readonly points: readonly CoursePoint[];
  readonly truth: Truth;
  readonly hours: number;
}

function drawLife(seed: number): Life {
  const source = randomLcg(seed / LIVES + 0.123);
  const uniform = (low: number, high: number) => randomUniform.source(source)(low, high)();
  const normal = randomNormal.source(source)(0, 1);
  // exp(-sqrt(t)) is the mean of exp(-t k) over k = 1 / (2 z²), z normal: the same curve, made of single times.
  const scale = tau.value * spread.tauFactor.value ** uniform(-1, 1);
  const times = Array.from({ length: MODES }, () => scale * 2 * Math.max(normal() ** 2, 1e-4));
  const hours = uniform(2, 96);
  const [bench, night] = [uniform(19, 25), uniform(14, 24)];
  const points = Array.from({ length: Math.ceil(hours / STEP_HOURS) + 1 }, (_, index) => {
    const hour = Math.min(hours, index * STEP_HOURS);
    const celsius = (hour % 24 < 10 ? bench : night) + 0.4 * Math.sin(hour * 3);
    return { at: instantAfter(hour), celsius: celsius as Celsius };
  });
  const act = (kind: LifeAct['kind'], at: number): LifeAct => ({
    id: `${kind}-${at}`,
    kind,
    at: iso(at),
    recordedAt: iso(at),
    by: 'Mira',
  });
  const offAt = uniform(0, hours);
  const acts = uniform(0, 1) < 0.4 ? [act('off-die', offAt)] : [];
  const resealed = uniform(0, 1) < 0.3 && acts.length > 0 ? [act('margins-resealed', offAt * 0.5)] : [];
  return {
    pattern: {
      id: `${seed}`,
      caseReference: `${seed}`,
      wax: 'inlay-type-2',
      technique: 'layered',
      fate: null,
      length_millimetres: uniform(5, 40),
      tolerance_micrometres: uniform(10, 120),
      madeAt: iso(0),
      madeBy: 'Mira',
      isMadeOnDie: acts.length > 0,
      stays: [{ station: 'shelf', from: iso(0), to: null }],
      acts: [...resealed, ...acts],
    },
    points,
    truth: {
      times,
      energy: uniform(80e3, 120e3),
      strain: frozenStrain.layered.value * (1 + spread.frozenStrainShare.value * uniform(-1, 1)),
      throughDie: uniform(0, 0.5),
    },
    hours,
  };
}

/** Micrometres, step by step over the course. */
function trueError({ pattern, points, truth, hours }: Life): number {
  const end = instantAfter(hours);
  const { fittedAt, frozenAt, periods } = patternLife(pattern, end);
  let [aged, released] = [0, 0];
  for (const [index, after] of points.entries()) {
    const before = points[index - 1];
    if (before === undefined || after.at <= frozenAt) continue;
    const from = Math.max(before.at, frozenAt);
    const kelvin = (before.celsius + after.celsius) / 2 + 273.15;
    const rate = Math.exp((truth.energy / GAS_CONSTANT) * (1 / (reference.value + 273.15) - 1 / kelvin));
    const next = aged + ((after.at - from) / 1000) * rate;
    const middle = (from + after.at) / 2;
    const isHeld = periods.find((period) => middle >= period.from && middle <= period.to)?.isHeld ?? false;
    const weight = middle < fittedAt ? 0 : isHeld ? truth.throughDie : 1;
    const share = truth.times.reduce((sum, time) => sum + Math.exp(-aged / time) - Math.exp(-next / time), 0);
    released += (weight * share) / MODES;
    aged = next;
  }
  return truth.strain * released * pattern.length_millimetres * 1000;
}

const verdictOf = ({ pattern, points, hours }: Life, wax = generic): PatternVerdict =>
  patternVerdict({
    pattern,
    heat: { points },
    wax,
    care: patternCare(),
    at: instantAfter(hours),
    params: relaxationParameters(wax),
  });

const lives = Array.from({ length: LIVES }, (_, seed) => drawLife(seed));
const truths = lives.map(trueError);

describe('a thousand pattern lives by another model', () => {
  it('lie within the band of the permanent error in at least nine of ten', () => {
    const covered = lives.filter((life, index) => {
      const band = verdictOf(life).permanent;
      const truth = truths[index] ?? Number.NaN;
      return band !== null && truth >= band.low && truth <= band.high;
    });
    expect(covered.length / LIVES).toBeGreaterThanOrEqual(0.9);
  });
  it('are never to be remade by generic figures', () => {
    expect(lives.filter((life) => verdictOf(life).verdict === 'remake')).toEqual([]);
  });
  it('are to be remade by calibrated figures only where they are out of tolerance, and some are', () => {
    const remade = lives.flatMap((life, index) => {
      // What a trial finds of this very wax: its times on average, with an error of the measurement.
      const mean = life.truth.times.reduce((sum, time) => sum + Math.sqrt(time / 2), 0) / MODES;
      const wax = waxClass('inlay-type-2', {
        'relaxation.tau': mean ** 2 * (index % 2 === 0 ? 1.2 : 1.6),
        'relaxation.beta': 0.5,
        'relaxation.activationEnergy': activationEnergy.value,
      });
      return verdictOf(life, wax).verdict === 'remake' ? [index] : [];
    });
    const inside = remade.filter(
      (index) => (truths[index] ?? 0) <= (lives[index]?.pattern.tolerance_micrometres ?? 0),
    );
    expect(remade.length).toBeGreaterThan(0);
    expect(inside).toEqual([]);
  });
});
