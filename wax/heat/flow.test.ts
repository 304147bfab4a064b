import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkedFlowBand, flowBand } from './flow.ts';
import { celsius } from '../units.ts';
import { waxClass } from '../wax-class.ts';
import { WAX_CLASS_IDS } from '../classes/wax-class-id.ts';

const temperature = fc.double({ min: 0, max: 80, noNaN: true });

describe('The band of flow', () => {
  it('rises with temperature at both ends, and is never upside down', () => {
    fc.assert(
      fc.property(fc.constantFrom(...WAX_CLASS_IDS), temperature, temperature, (id, a, b) => {
        const wax = waxClass(id);
        const cooler = flowBand(wax, celsius(Math.min(a, b)));
        const warmer = flowBand(wax, celsius(Math.max(a, b)));
        expect(warmer.atLeast?.value ?? 0).toBeGreaterThanOrEqual(cooler.atLeast?.value ?? 0);
        expect(warmer.atMost?.value ?? 100).toBeGreaterThanOrEqual(cooler.atMost?.value ?? 100);
        expect(warmer.atMost?.value ?? 100).toBeGreaterThanOrEqual(warmer.atLeast?.value ?? 0);
      }),
    );
  });

  it('keeps the standing and the source of the limit that sets it', () => {
    expect(flowBand(waxClass('inlay-type-1'), celsius(45)).atLeast).toMatchObject({
      standing: 'from memory',
    });
    const lab = waxClass('inlay-type-1', { 'flow.2.atLeast': 75 });
    expect(flowBand(lab, celsius(45)).atLeast).toMatchObject({ value: 75, standing: "lab's own" });
  });

  it('is refused for what is no temperature', () => {
    const result = checkedFlowBand(waxClass('utility'), Number.NaN);
    expect(!result.ok && result.problem.code).toBe('not-a-temperature');
  });
});
