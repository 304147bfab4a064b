// Values that nothing can be worked out from, for tests of what refuses them.

import { expect, it } from 'vitest';
import type { BentStickTest } from '../wax/relaxation/bent-stick-test.ts';
import { doseKinetics } from '../wax/heat/heat-dose.ts';
import { calibrateRelaxation } from '../wax/relaxation/relaxation-calibration.ts';
import type { Result } from '../wax/result.ts';
import { type SoakBody, soakBody, soakMaterialOf } from '../wax/heat/soak-body.ts';
import { type Celsius, celsius, millimetres, seconds } from '../wax/units.ts';
import { waxClass } from '../wax/wax-class.ts';

export const wax = waxClass('inlay-type-2');
export const kinetics = doseKinetics(wax);
/** What JSON of a broken world holds in the place of a number; the casts stand for callers that the types do not reach. */
export const NOT_NUMBERS = [null, '25'].map((bad) => bad as unknown as number);
export const NOT_TEMPERATURES = [Number.NaN, Infinity, -Infinity, -273.16, -1e9, ...NOT_NUMBERS].map(
  (bad) => bad as Celsius,
);
export const gap = seconds(60);
export const body = ((): SoakBody => {
  const made = soakBody({ kind: 'stick', diameter: millimetres(6) }, soakMaterialOf(wax), 'still-air');
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
})();
export const steinhart = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
export const beta = { r25: 10_000, beta: 3950 };
export const stick = (at: Celsius, more: readonly { hours: number; millimetres: number }[] = []) => ({
  celsius: at,
  openings: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]
    .map((hours) => ({ hours, millimetres: Math.sqrt(hours) }))
    .concat(more),
});
export const fit = ((test: BentStickTest) => {
  const made = calibrateRelaxation(test);
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
})({ sticks: [stick(celsius(15)), stick(celsius(25))] });
export type Doors<T> = Readonly<Record<string, (bad: T) => Result<unknown>>>;
export const refusesEach = <T>(doors: Doors<T>, bad: readonly T[]): void => {
  for (const [name, door] of Object.entries(doors))
    it.each(bad.map((value) => ({ value })))(`${name} refuses $value with a code`, ({ value }) => {
      const result = door(value);
      expect(result.ok).toBe(false);
      if (result.ok) return;
      expect(result.problem.code).toMatch(/^[a-z]+(-[a-z]+)+$/);
    });
};
