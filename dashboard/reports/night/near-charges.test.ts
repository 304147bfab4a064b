import { expect, it } from 'vitest';
import { nearCharges } from './near-charges.ts';

it('charges from four fifths of their allowance are nearly spent and from all of it spent, most used first', () => {
  const charges = [
    { station: 'a', name: 'A', doseShare: 0.79 },
    { station: 'b', name: 'B', doseShare: 0.8 },
    { station: 'c', name: 'C', doseShare: null },
    { station: 'd', name: 'D', doseShare: 1 },
  ];
  expect(nearCharges(charges)).toEqual([
    { station: 'd', name: 'D', doseShare: 1, isSpent: true },
    { station: 'b', name: 'B', doseShare: 0.8, isSpent: false },
  ]);
});
