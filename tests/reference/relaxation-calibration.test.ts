// Second opinion on the fit: the quasi-Newton search (BFGS) of the general package numeric minimises the same sum of
// squares with its own derivatives, from another start, and must end at the same point.
// The model's own values: table of 1 - exp(-(t/τ)^β) and of the Arrhenius shift computed by another program (Python).
import { randomLcg, randomNormal } from 'd3-random';
import numeric from 'numeric';
import { describe, expect, it } from 'vitest';
import { openingOf, openingRows, reducedHours } from '../../wax/relaxation/opening-model.ts';
import { calibrateRelaxation } from '../../wax/relaxation/relaxation-calibration.ts';
import { celsius } from '../../wax/units.ts';

const at = (hours: number, t: number) => ({
  stick: 1,
  hours,
  millimetres: 0,
  temperatures: [{ hours: 0, celsius: celsius(t) }],
});

describe('relaxation calibration', () => {
  it.each([
    [0.01, 0.22212, 0.09516, 0.03903, 0.00995],
    [0.1, 0.39419, 0.27111, 0.18088, 0.09516],
    [0.5, 0.55614, 0.50693, 0.45967, 0.39347],
    [1, 0.63212, 0.63212, 0.63212, 0.63212],
    [2, 0.70804, 0.75688, 0.80299, 0.86466],
    [10, 0.86402, 0.95767, 0.99334, 0.99995],
  ])('opens after %d τ as the table of the stretched exponential says', (ratio, ...shares) => {
    for (const [i, beta] of [0.3, 0.5, 0.7, 1].entries())
      expect(openingOf([0, Math.log(10), beta, 1], at(10 * ratio, 25), celsius(25))).toBeCloseTo(
        shares[i] ?? 0,
        5,
      );
  });

  it.each([
    [5, 18.184],
    [15, 4.055],
    [20, 1.99],
    [25, 1],
    [30, 0.5141],
    [37, 0.20997],
  ])('at %d °C it is slower than at 25 °C by %d (100 kJ/mol)', (t, shift) => {
    expect(1 / reducedHours(at(1, t), 1, celsius(25)) / shift).toBeCloseTo(1, 3);
  });

  it('ends where the quasi-Newton search of another package ends', () => {
    const noise = randomNormal.source(randomLcg(0.77))(0, 0.08);
    const hours = [0.25, 0.5, 1, 2, 4, 8, 12, 24, 36, 48, 72, 96];
    const truth = [Math.log(5), Math.log(12), 0.55, 0.95];
    const sticks = [10, 20, 30].map((t) => ({
      celsius: celsius(t),
      openings: hours.map((hour) => ({
        hours: hour,
        millimetres: openingOf(truth, at(hour, t), celsius(20)) + noise(),
      })),
    }));
    const ours = calibrateRelaxation({ sticks });
    expect(ours.ok).toBe(true);
    if (!ours.ok) return;
    const rows = openingRows(sticks);
    const squares = (parameters: readonly number[]) =>
      rows.reduce((sum, row) => sum + (row.millimetres - openingOf(parameters, row, celsius(20))) ** 2, 0);
    const theirs = numeric.uncmin((x: number[]) => squares(x), [1.2, 2, 0.7, 0.7], 1e-12);
    expect(squares(ours.value.parameters)).toBeLessThanOrEqual(theirs.f * (1 + 1e-9));
    for (const [i, value] of ours.value.parameters.entries())
      expect(value).toBeCloseTo(theirs.solution[i] ?? 0, 3);
  });
});
