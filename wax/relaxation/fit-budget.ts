// The fit of a casting as a balance: what wax and alloy shrink against what the investment expands, in percent and in
// micrometres over a length, with its uncertainty. It adds published or the lab's own figures and predicts no fit: the
// investment's real expansion depends on mixing, ring and burnout. Positive balance: the casting comes out large.
// Source: the compensation sum of Phillips/Anusavice, Science of Dental Materials, ch. casting (from memory).

import { isWithin } from '../reading-guard.ts';
import { failure, type Result, success } from '../result.ts';
import { checkedThermalStrain } from './thermal-strain.ts';
import { type Celsius, type Millimetres, micrometres, type Micrometres } from '../units.ts';
import type { WaxClass } from '../classes/wax-properties.ts';
import {
  commonPractice,
  fromMemory,
  type Standing,
  type WaxValue,
  weakestStanding,
} from '../classes/wax-value.ts';

/** A linear change in percent; `uncertainty` is its half-width, taken as a rectangular distribution. */
export interface BudgetItem {
  readonly percent: WaxValue;
  readonly uncertainty: number;
}

export interface FitBudgetInput {
  /** Wax, from the temperature at which it was formed to that of investing; shrinkage positive. */
  readonly wax: BudgetItem;
  /** Alloy on casting; shrinkage positive. */
  readonly alloy: BudgetItem;
  /** Expansions of the investment. */
  readonly setting: BudgetItem;
  readonly hygroscopic: BudgetItem;
  readonly thermal: BudgetItem;
  readonly length: Millimetres;
}

export interface FitBudget {
  readonly shrinkagePercent: number;
  readonly expansionPercent: number;
  /** Expansion less shrinkage. */
  readonly balancePercent: number;
  /** Expanded (k = 2). */
  readonly uncertaintyPercent: number;
  readonly balance: Micrometres;
  readonly uncertainty: Micrometres;
  /** `balanced` when nought lies within the uncertainty. */
  readonly verdict: 'balanced' | 'small' | 'large';
  readonly standing: Standing;
}

/** µm per mm and percent. */
const MICROMETRES_PER_PERCENT = 10;
const MOST_PERCENT = 10;

export function fitBudget(input: FitBudgetInput): Result<FitBudget> {
  const { wax, alloy, setting, hygroscopic, thermal, length } = input;
  for (const [name, { percent, uncertainty }] of Object.entries({
    wax,
    alloy,
    setting,
    hygroscopic,
    thermal,
  }))
    if (!isWithin(percent.value, -MOST_PERCENT, MOST_PERCENT) || !isWithin(uncertainty, 0, MOST_PERCENT))
      return failure('bad-budget-item', { most: MOST_PERCENT }, `${percent.value} ± ${uncertainty}`, name);
  if (!isWithin(length, Number.MIN_VALUE)) return failure('bad-length', {}, length);
  const items = [wax, alloy, setting, hygroscopic, thermal];
  const shrinkagePercent = wax.percent.value + alloy.percent.value;
  const expansionPercent = setting.percent.value + hygroscopic.percent.value + thermal.percent.value;
  const balancePercent = expansionPercent - shrinkagePercent;
  const uncertaintyPercent =
    2 * Math.sqrt(items.reduce((sum, { uncertainty }) => sum + uncertainty ** 2 / 3, 0));
  const perLength = MICROMETRES_PER_PERCENT * length;
  return success({
    shrinkagePercent,
    expansionPercent,
    balancePercent,
    uncertaintyPercent,
    balance: micrometres(balancePercent * perLength),
    uncertainty: micrometres(uncertaintyPercent * perLength),
    verdict:
      Math.abs(balancePercent) <= uncertaintyPercent ? 'balanced' : balancePercent < 0 ? 'small' : 'large',
    standing: weakestStanding(...items.map(({ percent }) => percent)),
  });
}

/** Averages of the textbooks for one wax differ by about this share: 323 to 500e-6/K for inlay wax. */
export const EXPANSION_SPREAD = 0.3;

/** The coefficients of the pieces that a change of temperature passes through. */
const piecesBetween = ({ expansion }: WaxClass, from: Celsius, to: Celsius): readonly WaxValue[] => {
  const [coldest, warmest] = [Math.min(from, to), Math.max(from, to)];
  return expansion
    .filter(
      (piece, index) =>
        (index === 0 || piece.from.value < warmest) &&
        (expansion[index + 1]?.from.value ?? Infinity) > coldest,
    )
    .map(({ coefficient }) => coefficient);
};

/** Shrinkage of the pattern from the temperature at which it was formed to that of investing. */
export function patternShrinkage(
  wax: WaxClass,
  formed: Celsius,
  invested: Celsius,
  spread = EXPANSION_SPREAD,
): Result<BudgetItem> {
  if (!isWithin(spread, 0)) return failure('bad-budget-item', {}, spread, 'spread');
  const strain = checkedThermalStrain(wax, formed, invested);
  if (!strain.ok) return strain;
  const value = -strain.value * 100;
  return success({
    percent: {
      value,
      standing: weakestStanding(...piecesBetween(wax, formed, invested)),
      source: { code: 'expansion-of-wax', values: { from_celsius: formed, to_celsius: invested } },
    },
    uncertainty: Math.abs(value) * spread,
  });
}

const midpoint = (make: typeof fromMemory, low: number, high: number, code: string): BudgetItem => ({
  percent: make((low + high) / 2, code, { low_percent: low, high_percent: high }),
  uncertainty: (high - low) / 2,
});

const CRAIG = 'craig-middle';
const ANUSAVICE = 'anusavice-casting-table';

/** Casting shrinkage of alloys, linear percent. */
export const ALLOY_SHRINKAGE = {
  'gold-type-1': { percent: fromMemory(1.56, ANUSAVICE), uncertainty: 0.1 },
  'gold-type-2': { percent: fromMemory(1.37, ANUSAVICE), uncertainty: 0.1 },
  'gold-type-3': { percent: fromMemory(1.42, ANUSAVICE), uncertainty: 0.1 },
  'pure-gold': { percent: fromMemory(1.67, 'hollenback-1946'), uncertainty: 0.05 },
  'nickel-chromium': { percent: fromMemory(2.3, ANUSAVICE), uncertainty: 0.2 },
  'cobalt-chromium': midpoint(fromMemory, 2.1, 2.3, 'anusavice-middle'),
} as const satisfies Record<string, BudgetItem>;

const NONE: BudgetItem = { percent: commonPractice(0, 'not-in-technique'), uncertainty: 0 };

/** Expansions of investments, linear percent. */
export const INVESTMENT_EXPANSION = {
  'gypsum-thermal': {
    setting: midpoint(fromMemory, 0.3, 0.5, CRAIG),
    hygroscopic: NONE,
    thermal: midpoint(fromMemory, 1, 2, 'ada-2-type-1-middle'),
  },
  'gypsum-hygroscopic': {
    setting: NONE,
    hygroscopic: midpoint(fromMemory, 1.2, 2.2, 'ada-2-setting-middle'),
    thermal: midpoint(fromMemory, 0, 0.6, 'ada-2-type-2-middle'),
  },
  'phosphate-bonded': {
    setting: midpoint(fromMemory, 0.4, 1, CRAIG),
    hygroscopic: NONE,
    thermal: midpoint(fromMemory, 0.8, 1.6, CRAIG),
  },
} as const satisfies Record<string, Pick<FitBudgetInput, 'setting' | 'hygroscopic' | 'thermal'>>;
