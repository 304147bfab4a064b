import { describe, expect, it } from 'vitest';
import type { PatternLine } from '../../api/night.ts';
import { firstNamed, namesOf } from './named-patterns.ts';

const lines = (count: number): readonly PatternLine[] =>
  Array.from({ length: count }, (_, index) => ({ id: `P${index}`, caseReference: '' }) as PatternLine);
const further = (count: number): string => `${count} more`;

describe('the names of patterns in one line', () => {
  it('are all of them as long as a person reads that many', () => {
    expect(namesOf(lines(12), further)).toBe(
      Array.from({ length: 12 }, (_, index) => `P${index}`).join(', '),
    );
    expect(firstNamed(lines(12)).further).toBe(0);
  });

  it('end with how many more there are when hundreds wait', () => {
    expect(namesOf(lines(200), further)).toMatch(/^P0, .*, P11, 188 more$/);
  });

  it('have the case beside the number, where there is one', () => {
    expect(namesOf([{ id: 'AB3CD', caseReference: 'Case 41' } as PatternLine], further)).toBe(
      'AB3CD (Case 41)',
    );
  });
});
