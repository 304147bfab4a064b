import { expect, it } from 'vitest';
import { nearCharges } from './near-charges.ts';

it('charges from four fifths of their allowance are nearly spent and from all of it spent, most used first', () => {
  const charges = [
    { station: 'a', name: 'A', doseShare: 0.79, figures: {} },
    { station: 'b', name: 'B', doseShare: 0.8, figures: {} },
    { station: 'c', name: 'C', doseShare: null, figures: {} },
    { station: 'd', name: 'D', doseShare: 1, figures: {} },
  ];
  expect(nearCharges(charges)).toEqual([
    { station: 'd', name: 'D', doseShare: 1, isSpent: true },
    { station: 'b', name: 'B', doseShare: 0.8, isSpent: false },
  ]);
});

it('a charge counts as nearly spent and as spent from the shares that the lab has set for its alarms', () => {
  const figures = { 'heat-dose-high': { limit_share: 0.5 }, 'charge-spent': { limit_share: 0.7 } };
  const of = (doseShare: number) => nearCharges([{ station: 'a', name: 'A', doseShare, figures }]);
  expect(of(0.49)).toEqual([]);
  expect(of(0.5)).toMatchObject([{ isSpent: false }]);
  expect(of(0.7)).toMatchObject([{ isSpent: true }]);
});
