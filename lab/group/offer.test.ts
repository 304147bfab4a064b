import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES_BY_PLACE } from '../../alerts/watch/rules/rules-by-place.ts';
import type { Offer, OfferItem } from './group-offer.ts';
import type { Lab } from '../lab.ts';
import { offerChanges, withOffer } from './offer.ts';
import { concernsHeat, offerProblems } from './offer-checks.ts';

const LOT = {
  id: 'lot-1',
  ...({ wax: 'inlay-type-2', maker: 'Kerber', lot: 'X-1204', expiresOn: '2032-01-31' } as const),
  sheetValues: { ceiling: 90 },
  recordedAt: '2031-01-01T08:00:00Z',
  recordedBy: 'Ada Lind',
};
const LAB: Lab = {
  site: {
    id: 'north',
    name: 'North',
    timeZone: 'Europe/Berlin',
    holidays: [],
    workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
  },
  stations: [
    { id: 'pot-1', name: 'Melt pot', kind: 'melt-pot', wax: 'inlay-type-2' },
    {
      ...({ id: 'pot-2', name: 'Second pot', kind: 'melt-pot', wax: 'inlay-type-2' } as const),
      rules: { 'over-ceiling': { on_delay_seconds: 20 } },
    },
  ],
  probes: [],
  charges: [],
  patterns: [],
  people: [],
  lots: [LOT],
  waxOverrides: { 'inlay-type-2': { ceiling: 100 } },
};
const RECORDED = { recordedAt: '2031-03-03T08:00:00Z', recordedBy: 'Ilse Brandt' };
const offerOf = (...items: readonly OfferItem[]): Offer => ({
  id: 'abcdefgh',
  note: '',
  by: 'Noor Berg',
  offered_at: '2031-03-03T07:00:00Z',
  items: [...items],
});
const ceiling = (value: number): OfferItem => ({
  kind: 'wax-values',
  wax: 'inlay-type-2',
  values: { ceiling: value },
});
const lot = (change: Partial<Extract<OfferItem, { kind: 'lot' }>> = {}): OfferItem => ({
  kind: 'lot',
  maker: 'kerber ',
  lot: 'x-1204',
  wax: 'inlay-type-2',
  expires_on: null,
  sheet_values: {},
  ...change,
});
const changes = (...items: readonly OfferItem[]) => offerChanges(LAB, offerOf(...items), RULES_BY_PLACE);
const problems = (item: OfferItem) =>
  offerProblems(LAB, offerOf(item), RULES_BY_PLACE).map(({ code }) => code);
const labAfter = (...items: readonly OfferItem[]): Lab =>
  withOffer(LAB, offerOf(...items), RULES_BY_PLACE, RECORDED);

describe('what an offer of the group would change', () => {
  it('is a value of a wax with what holds now, whether it is the own one or that of the table', () => {
    expect(changes(ceiling(95))).toEqual([
      { kind: 'wax-value', wax: 'inlay-type-2', name: 'ceiling', before: 100, after: 95 },
    ]);
    const [storage] = changes({ kind: 'wax-values', wax: 'inlay-type-2', values: { storageMax: 21 } });
    expect(storage).toMatchObject({ name: 'storageMax', before: expect.any(Number), after: 21 });
    expect(labAfter(ceiling(95)).waxOverrides['inlay-type-2']).toEqual({ ceiling: 95 });
  });

  it('is a figure of a rule at every station of the kind that does not have it yet', () => {
    const item: OfferItem = {
      kind: 'rule-figures',
      place: 'melt-pot',
      rule: 'over-ceiling',
      figures: { on_delay_seconds: 20 },
    };
    expect(changes(item)).toMatchObject([{ station: 'pot-1', figure: 'on_delay_seconds', after: 20 }]);
    expect(labAfter(item).stations.map(({ rules }) => rules?.['over-ceiling'])).toEqual([
      { on_delay_seconds: 20 },
      { on_delay_seconds: 20 },
    ]);
    expect(changes({ ...item, place: 'shelf' })).toEqual([]);
  });

  it('is a lot that the lab has not recorded, with its sheet and its last day', () => {
    const item = lot({ lot: 'X-9', expires_on: '2033-05-31', sheet_values: { ceiling: 92 } });
    expect(changes(item).map(({ kind }) => kind)).toEqual(['lot-added', 'lot-expiry', 'lot-value']);
    expect(labAfter(item).lots?.[1]).toEqual({
      id: 'abcdefgh-1',
      wax: 'inlay-type-2',
      maker: 'kerber',
      lot: 'X-9',
      expiresOn: '2033-05-31',
      sheetValues: { ceiling: 92 },
      ...RECORDED,
    });
  });

  it('keeps the name, the record and the other values of a lot that is there, whatever its case and blanks', () => {
    const item = lot({ sheet_values: { 'melting.low': 60 } });
    expect(changes(item)).toMatchObject([{ kind: 'lot-value', lot: 'X-1204', before: null, after: 60 }]);
    expect(labAfter(item).lots).toEqual([{ ...LOT, sheetValues: { ceiling: 90, 'melting.low': 60 } }]);
  });

  it('is nothing where all of it holds already', () => {
    expect(changes(ceiling(100), lot())).toEqual([]);
    expect(labAfter(ceiling(100), lot())).toBe(LAB);
  });

  it('is nothing more once it was taken', () => {
    const item = fc.oneof(
      fc.integer({ min: 60, max: 120 }).map(ceiling),
      fc
        .tuple(
          fc.constantFrom('melt-pot', 'shelf', 'lab'),
          fc.constantFrom('over-ceiling', 'left-on', 'toString'),
        )
        .chain(([place, rule]) =>
          fc
            .dictionary(
              fc.constantFrom('on_delay_seconds', 'enabled', '__proto__'),
              fc.oneof(fc.integer({ min: 0, max: 90 }), fc.boolean()),
            )
            .map((figures): OfferItem => ({ kind: 'rule-figures', place, rule, figures })),
        ),
      fc
        .tuple(fc.constantFrom('X-1204', ' x-1204', 'X-9'), fc.constantFrom('inlay-type-2', 'sticky', 'none'))
        .map(([name, wax]) =>
          lot({ lot: name, wax, expires_on: '2033-05-31', sheet_values: { ceiling: 91 } }),
        ),
    );
    fc.assert(
      fc.property(fc.array(item, { minLength: 1, maxLength: 5 }), (items) => {
        // Of two items about the same thing the last one holds.
        const offer = offerOf(...items);
        const once = withOffer(LAB, offer, RULES_BY_PLACE, RECORDED);
        const twice = withOffer(once, offer, RULES_BY_PLACE, RECORDED);
        expect(JSON.parse(JSON.stringify(twice))).toEqual(JSON.parse(JSON.stringify(once)));
      }),
    );
  });

  it.each([
    ['a wax class that is not known', { ...ceiling(90), wax: 'of-tomorrow' }, 'wax-class-unknown'],
    ['a name that the class has not', { ...ceiling(90), values: { constructor: 1 } }, 'wax-value-unknown'],
    [
      'a kind of station that is not known',
      { kind: 'rule-figures', place: 'oven', rule: 'left-on', figures: {} },
      'field-not-listed',
    ],
    [
      'a rule that is not known',
      { kind: 'rule-figures', place: 'melt-pot', rule: '__proto__', figures: {} },
      'rule-not-known',
    ],
    [
      'a figure out of its bounds',
      { kind: 'rule-figures', place: 'melt-pot', rule: 'over-ceiling', figures: { on_delay_seconds: -1 } },
      'rule-parameter-refused',
    ],
    [
      'a rule that may not be switched off',
      { kind: 'rule-figures', place: 'melt-pot', rule: 'fire-risk', figures: { enabled: false } },
      'rule-always-on',
    ],
    ['a lot that the lab has as another wax', lot({ wax: 'sticky' }), 'lot-of-another-wax'],
  ] as const)('is refused for %s', (_, item, code) => {
    expect(problems(item as OfferItem)).toEqual([code]);
  });

  it('is refused where a ceiling contradicts the rest of its wax', () => {
    expect(problems(ceiling(20))).toHaveLength(1);
    expect(problems(lot({ sheet_values: { ceiling: 20 } }))).toHaveLength(1);
    expect(problems(ceiling(95))).toEqual([]);
  });

  it('concerns heat where a ceiling rises or a heater is watched in another way', () => {
    const concerns = (item: OfferItem) => concernsHeat(LAB, changes(item));
    expect(concerns(ceiling(101))).toBe(true);
    expect(concerns(ceiling(95))).toBe(false);
    expect(
      concerns({
        kind: 'rule-figures',
        place: 'melt-pot',
        rule: 'over-ceiling',
        figures: { on_delay_seconds: 60 },
      }),
    ).toBe(true);
    expect(concerns(lot({ lot: 'X-9' }))).toBe(false);
  });
});
