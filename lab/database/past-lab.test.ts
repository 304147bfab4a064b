import { describe, expect, it } from 'vitest';
import { labOf, START } from '../../tests/rehearsal.ts';
import { epochMillis, MILLIS_PER_HOUR } from '../../wax/units.ts';
import type { Charge } from '../charge.ts';
import { pastLab, withPastOf } from './past-lab.ts';
import type { Pattern } from '../pattern.ts';

const hour = (hours: number) => epochMillis(START + hours * MILLIS_PER_HOUR);
const iso = (hours: number) => new Date(hour(hours)).toISOString();

const charge: Charge = {
  id: 'c1',
  station: 'pot-1',
  wax: 'inlay-type-2',
  grams: 40,
  cleanedAt: null,
  startedAt: iso(1),
  topUps: [{ at: iso(3), fraction: 0.5, by: 'Mira' }],
  endedAt: iso(6),
};
const pattern: Pattern = {
  id: 'w1',
  caseReference: '',
  wax: 'inlay-type-2',
  technique: 'dipped',
  length_millimetres: 40,
  tolerance_micrometres: 30,
  madeAt: iso(2),
  madeBy: 'Mira',
  stays: [
    { station: 'shelf-1', from: iso(2), to: iso(4) },
    { station: 'cab-1', from: iso(4), to: null },
  ],
  acts: [{ id: 'a', kind: 'chilled', at: iso(3), recordedAt: iso(5), by: 'Mira' }],
  fate: { kind: 'invested', at: iso(6), by: 'Mira', reason: '' },
};
const named = (name: string) => labOf([], [], { site: { ...labOf([], []).site, name } });
const past = pastLab({
  history: { changedAt: () => [hour(0), hour(5)], labAt: (at) => named(at < hour(5) ? 'before' : 'after') },
  charges: [charge],
  patterns: [pattern],
});

describe('the lab as it was', () => {
  it.each([
    { at: 0.5, name: 'before', topUps: [], stays: [], acts: [] },
    { at: 2.5, name: 'before', topUps: [0], stays: ['shelf-1'], acts: [0] },
    { at: 4.5, name: 'before', topUps: [1], stays: ['shelf-1', 'cab-1'], acts: [0] },
    { at: 5.5, name: 'after', topUps: [1], stays: ['shelf-1', 'cab-1'], acts: [1] },
    { at: 6.5, name: 'after', topUps: [], stays: [], acts: [] },
  ])('has at hour $at the settings, charges and patterns of then', ({ at, name, topUps, stays, acts }) => {
    const { site, charges, patterns } = past(hour(at));
    expect(site.name).toBe(name);
    expect(charges.map((then) => then.topUps.length)).toEqual(topUps);
    expect(patterns.flatMap((then) => then.stays.map(({ station }) => station))).toEqual(stays);
    expect(patterns.map((then) => then.acts?.length)).toEqual(acts);
    expect(patterns.every(({ fate }) => fate === null)).toBe(true);
  });

  it('is the same value until something changes, also with the settings of another lab', () => {
    const other = withPastOf(named('other'), past);
    expect(past(hour(4.1))).toBe(past(hour(4.9)));
    expect(other(hour(4.1))).toBe(other(hour(4.9)));
    expect(other(hour(5.5)).site.name).toBe('other');
    expect(other(hour(5.5)).patterns).toEqual(past(hour(5.5)).patterns);
  });
});
