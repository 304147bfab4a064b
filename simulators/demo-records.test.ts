import { describe, expect, it } from 'vitest';
import { recall } from '../lab/recall.ts';
import type { Pattern } from '../lab/pattern.ts';
import { demoCharges, demoLots, type DemoPattern, demoPatterns, patternDiary } from './demo-records.ts';

const NOW = Date.parse('2031-03-07T15:00:00.000Z');
const HOUR = 3_600_000;
const POTS = [
  { id: 'melt-pot-crowns', wax: 'inlay-type-2', grams: 35 },
  { id: 'dip-pot', wax: 'inlay-dip', grams: 60 },
] as const;

describe('the records of the demonstration', () => {
  it('write each act down when its time comes, and no act before', () => {
    const saved = new Map<string, DemoPattern>();
    const save = patternDiary(demoPatterns(NOW), (pattern) => saved.set(pattern.id, pattern));
    save(NOW - 5 * HOUR);
    expect(saved.get('4TK7M')?.acts).toEqual([]);
    save(NOW - 1.9 * HOUR);
    expect(saved.get('4TK7M')?.acts.map(({ kind }) => kind)).toEqual(['off-die']);
    save(NOW);
    expect(saved.get('4TK7M')?.acts.map(({ kind }) => kind)).toEqual(['off-die', 'sprued']);
    expect([...saved.values()].every(({ acts }) => acts.every(({ at }) => Date.parse(at) <= NOW))).toBe(true);
  });

  it('have lots that a recall finds in patterns and pots, one of them past its last day', () => {
    const lots = demoLots(NOW);
    const patterns: readonly Pattern[] = demoPatterns(NOW);
    const found = recall(
      lots.filter(({ id }) => id === 'crowns'),
      demoCharges(POTS, NOW),
      patterns,
    );
    expect(found.patterns.map(({ pattern }) => pattern.id).sort()).toEqual(['4TK7M', '9HQ3C', 'R2WDX']);
    expect(found.charges.map(({ charge }) => charge.station)).toEqual(['melt-pot-crowns']);
    expect(lots.filter(({ expiresOn }) => expiresOn !== null && expiresOn < '2031-03-07')).toHaveLength(1);
  });
});
