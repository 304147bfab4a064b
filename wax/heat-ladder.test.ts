import { describe, expect, it } from 'vitest';
import { checkedHeatRung, HEAT_LADDER, HEAT_RUNGS, heatRung } from './heat-ladder.ts';
import { celsius } from './units.ts';
import { waxClass } from './wax-class.ts';
import { WAX_CLASS_IDS } from './classes/wax-class-id.ts';

describe('The heat ladder', () => {
  it.each([
    [119.9, null],
    [120, 'overheated'],
    [149.9, 'overheated'],
    [150, 'switch-off'],
    [175, 'smoking'],
    [198.9, 'smoking'],
    [199, 'flash-point'],
  ])('has at %d °C the step %s', (temperature, rung) => {
    expect(heatRung(celsius(temperature))).toBe(rung);
  });

  it('rises from step to step and begins above the ceiling of every wax', () => {
    const steps = HEAT_RUNGS.map((rung) => HEAT_LADDER[rung].value);
    expect(steps).toEqual(steps.toSorted((a, b) => a - b));
    for (const id of WAX_CLASS_IDS) expect(waxClass(id).ceiling.value).toBeLessThan(steps[0] ?? 0);
  });

  it('does not answer for what is no temperature', () => {
    const result = checkedHeatRung(Number.NaN);
    expect(!result.ok && result.problem.code).toBe('not-a-temperature');
  });
});
