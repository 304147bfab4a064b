// The worked sum: wax 37 to 25 °C at 350e-6/K is 0.42 %, gold type III 1.42 % (Anusavice, from memory): 1.84 % needed;
// on a 7 mm crown the wax alone is 29.4 µm. Freezing of Au, Ag, Cu by 5.2, 5.0, 4.9 % of volume is 1.76, 1.70, 1.66 %
// linear (volumes: Kawai, J. Jpn Soc Dent Mater 1(3):286, 1982).
import { describe, expect, it } from 'vitest';
import { ALLOY_SHRINKAGE, fitBudget, INVESTMENT_EXPANSION } from '../../wax/relaxation/fit-budget.ts';
import { millimetres } from '../../wax/units.ts';
import { fromMemory } from '../../wax/classes/wax-value.ts';

const wax = { percent: fromMemory(350e-6 * 12 * 100, 'inlay wax, 37 to 25 °C'), uncertainty: 0 };

describe('fit budget', () => {
  it('needs 1.84 % for an inlay wax formed in the mouth and a type III gold', () => {
    const budget = fitBudget({
      wax,
      alloy: ALLOY_SHRINKAGE['gold-type-3'],
      ...INVESTMENT_EXPANSION['gypsum-thermal'],
      length: millimetres(7),
    });
    expect(budget.ok ? budget.value.shrinkagePercent : budget.problem).toBeCloseTo(1.84, 10);
    expect(budget.ok ? budget.value.expansionPercent : budget.problem).toBeCloseTo(1.9, 10);
    expect(budget.ok ? budget.value.verdict : budget.problem).toBe('balanced');
  });

  it('makes 29.4 µm of the wax alone on 7 mm', () => {
    const nothing = { percent: fromMemory(0, 'left out'), uncertainty: 0 };
    const budget = fitBudget({
      wax,
      alloy: nothing,
      setting: nothing,
      hygroscopic: nothing,
      thermal: nothing,
      length: millimetres(7),
    });
    expect(budget.ok ? budget.value.balance : budget.problem).toBeCloseTo(-29.4, 9);
  });

  it('has alloys between the solidification of pure metals and that of base metals', () => {
    const linear = (volume: number) => 100 * (1 - (1 - volume / 100) ** (1 / 3));
    expect([5.2, 5, 4.9].map((volume) => linear(volume).toFixed(2))).toEqual(['1.76', '1.70', '1.66']);
    expect(ALLOY_SHRINKAGE['pure-gold'].percent.value).toBeLessThan(linear(5.2));
    expect(ALLOY_SHRINKAGE['nickel-chromium'].percent.value).toBeGreaterThan(linear(4.9));
  });
});
