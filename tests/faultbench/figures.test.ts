import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figures, HOURS_PER_STATION_MONTH, quantile } from './figures.ts';
import type { Beginning } from './run-case.ts';
import type { CaseScore, ScoredFault } from './score-case.ts';

const scored = (more: Partial<ScoredFault>): ScoredFault => ({
  station: 'pot',
  fault: 'stuck_on',
  begins: 0,
  harm: 1,
  ends: 2,
  outcome: 'never',
  isNotified: false,
  first: null,
  leadMinutes: null,
  delayMinutes: null,
  isRightCause: null,
  ...more,
});
const found = (leadMinutes: number, more: Partial<ScoredFault> = {}) =>
  scored({ outcome: 'found', isNotified: true, leadMinutes, delayMinutes: 1, isRightCause: true, ...more });
const nuisance = (rule: Beginning['rule']): Beginning => ({
  alarm: 'a',
  rule,
  subject: 'pot',
  subjectKind: 'station',
  priority: 'high',
  tense: 'now',
  at: 0,
  notifiedAt: 0,
  evidence: {},
});
const caseOf = (more: Partial<CaseScore>): CaseScore => ({
  faults: [],
  nuisances: [],
  goodStationHours: 0,
  chatters: [],
  ...more,
});
const figure = (all: readonly CaseScore[], name: string, of: { fault?: string; rule?: string } = {}) =>
  figures(all).find((figure) => figure.name === name && figure.fault === of.fault && figure.rule === of.rule);

describe('figures', () => {
  const faults = [found(10), found(30), scored({ outcome: 'late', delayMinutes: 40 }), scored({})];

  it('give shares of the faults that did harm, by fault and in total', () => {
    const all = [caseOf({ faults }), caseOf({ faults: [scored({ fault: 'door_ajar' })] })];
    expect(figure(all, 'found-share', { fault: 'stuck_on' })).toEqual({
      name: 'found-share',
      fault: 'stuck_on',
      value: 0.5,
      unit: 'share',
      n: 4,
    });
    expect(figure(all, 'found-share')).toEqual({ name: 'found-share', value: 0.4, unit: 'share', n: 5 });
    expect(figure(all, 'late-share', { fault: 'stuck_on' })?.value).toBe(0.25);
    expect(figure(all, 'never-share', { fault: 'stuck_on' })?.value).toBe(0.25);
  });

  it('leave a fault that did no harm out of the shares found and notified, and keep its cause', () => {
    const all = [
      caseOf({ faults: [found(10), found(0, { harm: null, leadMinutes: null, isRightCause: false })] }),
    ];
    expect(figure(all, 'found-share')).toMatchObject({ n: 1 });
    expect(figure(all, 'told-share')).toMatchObject({ n: 1 });
    expect(figure(all, 'right-cause-share')).toMatchObject({ value: 0.5, n: 2 });
  });

  it('give the lead of those found and the delay of all that were seen', () => {
    const all = [caseOf({ faults })];
    expect(figure(all, 'lead-median')).toMatchObject({ value: 20, unit: 'min', n: 2 });
    expect(figure(all, 'lead-tenth-percentile')).toMatchObject({ value: 12, n: 2 });
    expect(figure(all, 'delay-median')).toMatchObject({ value: 1, n: 3 });
  });

  it('are null where nothing was there to count', () => {
    expect(figure([caseOf({})], 'found-share')).toMatchObject({ value: null, n: 0 });
    expect(figure([caseOf({})], 'nuisance-per-station-month')).toMatchObject({ value: null, n: 0 });
  });

  it('count nuisances for a month of a station, the most frequent rule first', () => {
    const all = [
      caseOf({ goodStationHours: HOURS_PER_STATION_MONTH, nuisances: [nuisance('left-on')] }),
      caseOf({
        goodStationHours: HOURS_PER_STATION_MONTH,
        nuisances: [nuisance('storage-rate'), nuisance('storage-rate')],
      }),
    ];
    expect(figure(all, 'nuisance-per-station-month')).toMatchObject({ value: 1.5, n: 2 });
    expect(
      figures(all)
        .filter(({ name }) => name === 'nuisance-of-rule')
        .map(({ rule, value }) => [rule, value]),
    ).toEqual([
      ['storage-rate', 1],
      ['left-on', 0.5],
    ]);
  });
});

describe('a quantile', () => {
  it('lies between the least and the greatest and grows with its share', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, first, second) => {
          const [low, high] = [
            quantile(values, Math.min(first, second)),
            quantile(values, Math.max(first, second)),
          ];
          expect(low).toBeGreaterThanOrEqual(Math.min(...values) - 1e-6);
          expect(high).toBeLessThanOrEqual(Math.max(...values) + 1e-6);
          expect((high ?? 0) - (low ?? 0)).toBeGreaterThanOrEqual(-1e-6);
        },
      ),
    );
  });
});
