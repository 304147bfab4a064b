import { describe, expect, it } from 'vitest';
import type { PatternView } from '../../../../api/patterns.ts';
import { patternsDue } from './patterns-due.ts';

const pattern = (id: string, investBy: string | null, fate: PatternView['fate'] = null): PatternView => ({
  id,
  caseReference: `Case ${id}`,
  kind: 'pattern',
  forming: {},
  acts: [],
  charge: null,
  lots: [],
  casting: {},
  verdict: null,
  wax: { id: 'inlay-type-2', name: 'Inlay wax' },
  technique: 'layered',
  lengthMillimetres: 20,
  toleranceMicrometres: 50,
  madeAt: '2026-11-25T08:00:00Z',
  madeBy: 'Ana',
  station: 'cabinet',
  stationName: 'Cabinet',
  stays: [],
  investBy,
  outlook: null,
  fate,
});

describe('the patterns that are due', () => {
  it('come soonest first', () => {
    const due = patternsDue([
      pattern('B', '2026-11-26T10:00:00Z'),
      pattern('A', '2026-11-25T20:00:00+05:00'),
    ]);
    expect(due.map(({ id }) => id)).toEqual(['A', 'B']);
  });
  it('leave out those without a time to invest by and those that were ended', () => {
    const ended = { kind: 'invested', at: '2026-11-25T09:00:00Z', by: 'Ana', reason: 'done' };
    expect(patternsDue([pattern('A', null), pattern('B', '2026-11-26T10:00:00Z', ended)])).toEqual([]);
  });
});
