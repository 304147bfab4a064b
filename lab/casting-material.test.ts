import { describe, expect, it } from 'vitest';
import { fitBudget, patternShrinkage } from '../wax/relaxation/fit-budget.ts';
import { celsius, millimetres } from '../wax/units.ts';
import { waxClass } from '../wax/wax-class.ts';
import { alloyShrinkage, type CastingMaterial, investmentExpansion } from './casting-material.ts';

const change = (percent: number, uncertainty_percent = 0.1) => ({ percent, uncertainty_percent });
const MATERIALS: readonly CastingMaterial[] = [
  { kind: 'alloy', id: 'A1', name: 'Gold of the lab', shrinkage: change(1.48, 0.05) },
  {
    kind: 'investment',
    id: 'I1',
    name: 'Investment of the lab',
    setting: change(0.6),
    hygroscopic: change(0, 0),
    thermal: change(1.25),
  },
];

describe("the figures of the lab's own alloys and investments", () => {
  it('are used with the standing of a value of the lab, and those of the tables where it has none', () => {
    expect(alloyShrinkage('A1', MATERIALS)).toMatchObject({
      percent: { value: 1.48, standing: "lab's own" },
      uncertainty: 0.05,
    });
    expect(alloyShrinkage('gold-type-3', MATERIALS)?.percent.value).toBe(1.42);
    expect(investmentExpansion('I1', MATERIALS)?.thermal.percent.value).toBe(1.25);
    expect(investmentExpansion('phosphate-bonded', [])?.setting.percent.standing).toBe('from memory');
  });

  it('are not found under the id of the other kind', () => {
    expect(alloyShrinkage('I1', MATERIALS)).toBeNull();
    expect(investmentExpansion('A1', MATERIALS)).toBeNull();
    expect(alloyShrinkage('toString', [])).toBeNull();
  });

  it('balance a crown: 0.6 % and 1.25 % against 1.48 % and what the wax contracts from 37 to 22 °C', () => {
    const wax = patternShrinkage(waxClass('inlay-type-2'), celsius(37), celsius(22));
    const alloy = alloyShrinkage('A1', MATERIALS);
    const investment = investmentExpansion('I1', MATERIALS);
    if (!wax.ok || alloy === null || investment === null) throw new Error('no figures');
    const budget = fitBudget({ wax: wax.value, alloy, ...investment, length: millimetres(10) });
    expect(budget.ok && budget.value.balancePercent).toBeCloseTo(
      0.6 + 1.25 - 1.48 - wax.value.percent.value,
      12,
    );
  });
});
