import { describe, expect, it } from 'vitest';
import type { LabView, RuleView } from '../../../api/lab-bodies.ts';
import { ruleDifferences } from './rule-differences.ts';

const figure = (supplied: number, ...places: string[]): RuleView['parameters'][string] => ({
  unit: 'celsius_difference',
  default: supplied,
  low: 0,
  high: 99,
  standing: 'common practice',
  source: { code: 'monitoring-practice', text: '' },
  places,
});
const rule = (kind: string, parameters: RuleView['parameters']): RuleView => ({
  kind,
  priority: 'medium',
  mayBeSwitchedOff: true,
  formula: '',
  parameters,
});
const RULES = [
  rule('storage-swing', { limit: figure(6, 'shelf', 'cabinet'), window: figure(12, 'shelf', 'cabinet') }),
  rule('gateway-lost', { least: figure(2, 'lab') }),
];
type Rules = LabView['site']['rules'];
const lab = (
  stations: readonly (readonly [id: string, kind: string, rules?: Rules])[],
  siteRules?: Rules,
): Pick<LabView, 'site' | 'stations'> => ({
  site: {
    id: 'lab',
    name: 'Lab',
    timeZone: 'UTC',
    workingHours: {},
    holidays: [],
    ...(siteRules && { rules: siteRules }),
  },
  stations: stations.map(([id, kind, rules]) => ({
    id,
    name: `Name of ${id}`,
    kind: kind as LabView['stations'][number]['kind'],
    wax: 'inlay-type-2',
    ...(rules && { rules }),
  })),
});
const namesOf = (places: readonly { readonly station: string | null }[]) =>
  places.map(({ station }) => station);

describe('the settings of rules that differ from those as supplied', () => {
  it('are none in a lab that has changed nothing', () => {
    expect(ruleDifferences(lab([['shelf-1', 'shelf']]), RULES)).toEqual([]);
  });

  it('are listed by kind of station, each value with its stations and those where the setting is as supplied', () => {
    const [shelves, ...more] = ruleDifferences(
      lab([
        ['shelf-1', 'shelf', { 'storage-swing': { limit: 3 } }],
        ['cabinet-1', 'cabinet'],
        ['shelf-2', 'shelf', { 'storage-swing': { limit: 4 } }],
        ['shelf-3', 'shelf'],
        ['shelf-4', 'shelf', { 'storage-swing': { limit: 4 } }],
      ]),
      RULES,
    );
    expect(more).toEqual([]);
    expect(shelves?.kind).toBe('shelf');
    const [difference] = shelves?.rules[0]?.differences ?? [];
    expect(difference?.held.map(({ value, places }) => [value, namesOf(places)])).toEqual([
      [4, ['shelf-2', 'shelf-4']],
      [3, ['shelf-1']],
    ]);
    expect(namesOf(difference?.asSupplied ?? [])).toEqual(['shelf-3']);
  });

  it('leave out an own value that equals the one as supplied', () => {
    const same = lab([['shelf-1', 'shelf', { 'storage-swing': { limit: 6 } }]]);
    expect(ruleDifferences(same, RULES)).toEqual([]);
  });

  it('name a rule that is switched off, beside its figures', () => {
    const [shelves] = ruleDifferences(
      lab([['shelf-1', 'shelf', { 'storage-swing': { enabled: false, limit: 3 } }]]),
      RULES,
    );
    expect(
      shelves?.rules[0]?.differences.map(({ name, held }) => [name, held.map(({ value }) => value)]),
    ).toEqual([
      ['enabled', [false]],
      ['limit', [3]],
    ]);
  });

  it('end with what is set once for the whole lab', () => {
    const found = ruleDifferences(
      lab([['shelf-1', 'shelf', { 'storage-swing': { limit: 3 } }]], { 'gateway-lost': { least: 5 } }),
      RULES,
    );
    expect(found.map(({ kind }) => kind)).toEqual(['shelf', 'lab']);
    expect(namesOf(found[1]?.places ?? [])).toEqual([null]);
  });
});
