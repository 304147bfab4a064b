import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Charge } from '../charge.ts';
import type { Pattern } from '../pattern.ts';
import { lotsNamed, patternLots, recall } from './recall.ts';
import type { WaxLot } from '../wax-lot.ts';

const lot = (id: string, maker: string, number: string): WaxLot => ({
  id,
  wax: 'inlay-dip',
  maker,
  lot: number,
  expiresOn: null,
  sheetValues: {},
  recordedAt: '2031-01-01T08:00:00.000Z',
  recordedBy: 'Tom',
});
const GREEN = lot('GREEN', 'North Wax dip green', 'X-12045');
const BLUE = lot('BLUE', 'North Wax dip blue', 'X-12046');

const charge: Charge = {
  id: 'pot-1-a',
  station: 'pot-1',
  wax: 'inlay-dip',
  lot: 'GREEN',
  grams: 100,
  startedAt: '2031-01-02T08:00:00.000Z',
  topUps: [{ at: '2031-01-04T08:00:00.000Z', fraction: 0.4, by: 'Tom', lot: 'BLUE' }],
  cleanedAt: null,
  endedAt: null,
};
const pattern = (id: string, madeAt: string, more: Partial<Pattern> = {}): Pattern => ({
  id,
  caseReference: `case ${id}`,
  wax: 'inlay-dip',
  technique: 'dipped',
  length_millimetres: 10,
  tolerance_micrometres: 50,
  madeAt,
  madeBy: 'Tom',
  stays: [{ station: 'shelf', from: madeAt, to: null }],
  fate: null,
  ...more,
});
const before = pattern('BEFORE', '2031-01-03T08:00:00.000Z', { charge: charge.id });
const after = pattern('AFTER', '2031-01-05T08:00:00.000Z', {
  charge: charge.id,
  fate: { kind: 'invested', at: '2031-01-05T12:00:00.000Z', by: 'Tom', reason: 'in time' },
});
const fromPack = pattern('PACK', '2031-01-06T08:00:00.000Z', { lot: 'BLUE' });
const unrecorded = pattern('NONE', '2031-01-06T08:00:00.000Z');
const ALL = [before, after, fromPack, unrecorded];

describe('a recall', () => {
  it('finds a pattern by the lots that its charge held when it was made, with their shares', () => {
    const found = recall([BLUE], [charge], ALL);
    expect(found.patterns.map(({ pattern: { id }, share }) => [id, share])).toEqual([
      ['PACK', 1],
      ['AFTER', 0.4],
    ]);
    expect(recall([GREEN], [charge], ALL).patterns.map(({ pattern: { id }, share }) => [id, share])).toEqual([
      ['BEFORE', 1],
      ['AFTER', 0.6],
    ]);
  });

  it('finds the pots, not one that was filled by mistake', () => {
    const mistaken = { ...charge, id: 'pot-2-a', takenBack: { by: 'Tom', reason: 'the wrong pot' } };
    const found = recall([GREEN], [charge, mistaken], []);
    expect(found.charges.map(({ charge: { id }, share }) => [id, share])).toEqual([['pot-1-a', 0.6]]);
  });

  it('finds no pattern whose lot nobody recorded', () => {
    expect(patternLots(unrecorded, new Map())).toEqual([]);
    expect(
      patternLots(before, new Map([[charge.id, { ...charge, lot: undefined } as unknown as Charge]])),
    ).toEqual([]);
  });

  it('leaves out no pattern that holds any of the lot, whenever it was made', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10 }), (day) => {
        const madeAt = new Date(Date.parse(charge.startedAt) + day * 86_400_000).toISOString();
        const made = pattern('ANY', madeAt, { charge: charge.id });
        const shares = [GREEN, BLUE].flatMap((searched) => recall([searched], [charge], [made]).patterns);
        expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe('a lot', () => {
  it.each([
    ['x-12045', ['GREEN']],
    ['X 12045', ['GREEN']],
    ['12045', ['GREEN']],
    ['north blue', ['BLUE']],
    ['NORTH WAX', ['GREEN', 'BLUE']],
    ['x-1204', ['GREEN', 'BLUE']],
    ['south', []],
    [' - ', []],
  ])('is found by maker or number as people type them: %s', (text, found) => {
    expect(lotsNamed([GREEN, BLUE], text).map(({ id }) => id)).toEqual(found);
  });
});
