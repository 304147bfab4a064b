import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ALLOY_SHRINKAGE,
  type BudgetItem,
  fitBudget,
  INVESTMENT_EXPANSION,
  patternShrinkage,
} from './fit-budget.ts';
import { type Celsius, celsius, type Millimetres, millimetres } from '../units.ts';
import { waxClass } from '../wax-class.ts';
import { commonPractice } from '../classes/wax-value.ts';

const item = (percent: number, uncertainty = 0): BudgetItem => ({
  percent: commonPractice(percent, 'made up for this test'),
  uncertainty,
});
const input = (wax: number, expansion: number, uncertainty = 0) => ({
  wax: item(wax, uncertainty),
  alloy: item(1.42),
  setting: item(0.4),
  hygroscopic: item(0),
  thermal: item(expansion),
  length: millimetres(7),
});

describe('fit budget', () => {
  it('balances shrinkage against expansion and turns percent into micrometres', () => {
    const result = fitBudget(input(0.42, 1.54));
    expect(result.ok).toBe(true);
    if (!result.ok) return;
    expect(result.value.shrinkagePercent).toBeCloseTo(1.84, 12);
    expect(result.value.expansionPercent).toBeCloseTo(1.94, 12);
    expect(result.value.balance).toBeCloseTo(7, 9);
    expect(result.value.verdict).toBe('large');
  });

  it('calls it balanced only while nought lies within the uncertainty', () => {
    const verdict = (wax: number, uncertainty: number) => {
      const result = fitBudget(input(wax, 1.44, uncertainty));
      return result.ok ? result.value.verdict : null;
    };
    // A half-width of 0.1 % is 0.1155 % expanded.
    expect([
      verdict(0.42, 0),
      verdict(0.53, 0.1),
      verdict(0.54, 0.1),
      verdict(0.31, 0.1),
      verdict(0.3, 0.1),
    ]).toEqual(['balanced', 'balanced', 'small', 'balanced', 'large']);
  });

  it('grows in micrometres with the length and in uncertainty with each item', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: 1, max: 60, noNaN: true }),
        (u, length) => {
          const alone = fitBudget(input(0.4, 1.5, u));
          const twice = fitBudget({ ...input(0.4, 1.5, u + 0.1), length: millimetres(2 * length) });
          const base = fitBudget({ ...input(0.4, 1.5, u), length: millimetres(length) });
          return (
            alone.ok &&
            twice.ok &&
            base.ok &&
            Math.abs(twice.value.balance - 2 * base.value.balance) < 1e-9 &&
            twice.value.uncertaintyPercent > base.value.uncertaintyPercent
          );
        },
      ),
    );
  });

  it('rests on the weakest of its figures', () => {
    const budget = fitBudget({
      wax: item(0.42),
      alloy: ALLOY_SHRINKAGE['gold-type-3'],
      ...INVESTMENT_EXPANSION['gypsum-thermal'],
      length: millimetres(7),
    });
    expect(budget.ok ? budget.value.standing : null).toBe('common practice');
  });

  it('takes the shrinkage of the pattern from the expansion of its wax, with its standing', () => {
    const wax = waxClass('inlay-type-1');
    const item = patternShrinkage(wax, celsius(37), celsius(22));
    expect(item.ok).toBe(true);
    if (!item.ok) return;
    // 15 K at 323e-6/K.
    expect(item.value.percent.value).toBeCloseTo(0.4845, 10);
    expect(item.value.percent.standing).toBe('from memory');
    expect(item.value.uncertainty).toBeCloseTo(0.14535, 10);
    const back = patternShrinkage(wax, celsius(22), celsius(37));
    expect(back.ok ? back.value.percent.value : null).toBeCloseTo(-0.4845, 10);
    expect(patternShrinkage(wax, Number.NaN as Celsius, celsius(22)).ok).toBe(false);
  });

  it('refuses what is no number, by its name', () => {
    const bad = fitBudget({ ...input(0.4, 1.5), alloy: item(Number.NaN) });
    expect(bad.ok ? null : [bad.problem.code, bad.problem.field]).toEqual(['bad-budget-item', 'alloy']);
    const short = fitBudget({ ...input(0.4, 1.5), length: 0 as Millimetres });
    expect(short.ok ? null : short.problem.code).toBe('bad-length');
  });
});
