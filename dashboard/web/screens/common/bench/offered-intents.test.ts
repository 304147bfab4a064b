import { describe, expect, it } from 'vitest';
import { INTENT_KINDS } from '../../../../../lab/intent-kind.ts';
import { STATION_KINDS } from '../../../../../lab/station-kinds.ts';
import { offeredIntents } from './offered-intents.ts';

describe('the intents that are offered', () => {
  it('are all of them at a melt pot', () => {
    expect([...offeredIntents('melt-pot')].sort()).toEqual([...INTENT_KINDS].sort());
  });
  it('have no topping up at an annealer, which holds no melted wax', () => {
    expect(offeredIntents('annealer')).not.toContain('topping-up');
    expect(offeredIntents('annealer')).toContain('off-today');
  });
  it.each(['shelf', 'cabinet', 'room'] as const)('are only the probe being out at a %s', (kind) => {
    expect(offeredIntents(kind)).toEqual(['probe-out']);
  });
  it.each(STATION_KINDS)('name no intent twice at a %s', (kind) => {
    expect(new Set(offeredIntents(kind)).size).toBe(offeredIntents(kind).length);
  });
});
