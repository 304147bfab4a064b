import { describe, expect, it } from 'vitest';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import { waxValueNames } from '../../../../wax/wax-class.ts';
import { firstValues } from './first-values.ts';

describe('the values of a wax that a lab changes first', () => {
  it('are six for a wax that a pot holds: its window there, ceiling, flow at its warmest, expansion and heat dose', () => {
    expect(firstValues(waxValueNames('inlay-type-2'))).toEqual([
      'potWindow.low',
      'potWindow.high',
      'ceiling',
      'flow.2.atMost',
      'expansion.0.coefficient',
      'doseAllowance',
    ]);
  });

  it.each(WAX_CLASS_IDS)('of %s are those of the six that the wax has', (id) => {
    const names = waxValueNames(id);
    const first = firstValues(names);
    expect(first).toContain('ceiling');
    expect(first.every((name) => names.includes(name))).toBe(true);
    expect(first.length).toBeLessThanOrEqual(6);
  });
});
