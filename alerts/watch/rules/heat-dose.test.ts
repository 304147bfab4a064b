import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import { actAt, instant, potLab } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { HOUR, every, run, begun } from '../../../tests/pot-runs.ts';

describe('the heat dose', () => {
  const hot = { ...potLab(), waxOverrides: { 'inlay-dip': { doseAllowance: 5 } } };
  const dose = (entries: readonly Entry[]) =>
    waxWatch.statuses(run(entries, hot).state, hot)[0]?.doseEquivalentHours ?? 0;
  const hours = every(60, 0, 8 * HOUR, () => 90);
  it('raises half, most and all of the allowance once, in this order', () => {
    const steps = begun(hours, hot).filter((rule) => /dose|charge/.test(rule));
    expect(steps).toEqual(['heat-dose-half', 'heat-dose-high', 'charge-spent']);
  });
  it('is spent a few per cent before its allowance, by as much as the uncertainty of the probe may hide', () => {
    const uncertain = { ...hot, probes: hot.probes.map((probe) => ({ ...probe, uncertainty_celsius: 0.5 })) };
    const spent = (lastMinute: number, lab: Lab) =>
      begun(
        every(60, 0, 60 * lastMinute, () => 90),
        lab,
      ).includes('charge-spent');
    // By 100 kJ/mol, 0.5 °C at 90 °C is 4.6 % of a dose: 287 of 300 min.
    expect(spent(285, uncertain)).toBe(false);
    expect(spent(289, uncertain)).toBe(true);
    expect(spent(298, hot)).toBe(false);
  });
  it('starts at nought with a fresh charge and keeps 1 − f after a top-up', () => {
    const full = dose(hours);
    expect(full).toBeGreaterThan(7.9);
    const topped = actAt(8 * HOUR + 1, { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira' });
    const fresh = actAt(8 * HOUR + 1, {
      type: 'charge-changed',
      station: 'pot-1',
      wax: 'inlay-dip',
      grams: 500,
      by: 'Mira',
    });
    expect(dose([...hours, topped]) / full).toBeCloseTo(0.75, 10);
    expect(dose([...hours, fresh])).toBe(0);
  });
  it('goes on as if nothing had been entered when a change or a top-up is taken back', () => {
    const acts = {
      change: { type: 'charge-changed', station: 'pot-1', wax: 'sticky', grams: 500, by: 'Mira', id: 'a' },
      topUp: { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira', id: 'b' },
    } as const;
    const back = (id: string) => ({ type: 'charge-taken-back', station: 'pot-1', id, by: 'Mira' }) as const;
    const full = dose(hours);
    const before = hours.slice(0, 240);
    const after = hours.slice(240);
    for (const act of Object.values(acts)) {
      const mistaken = [...before, actAt(4 * HOUR, act), ...after];
      expect(dose(mistaken)).toBeLessThan(full * 0.9);
      expect(dose([...mistaken, actAt(8 * HOUR + 1, back(act.id))])).toBeCloseTo(full, 9);
    }
    const both = [...before, actAt(4 * HOUR, acts.change), ...after, actAt(8 * HOUR, acts.topUp)];
    const wrongOrder = run([...both, actAt(8 * HOUR + 1, back('a'))], hot);
    expect(wrongOrder.refusals.map(({ code }) => code)).toEqual(['nothing-to-take-back']);
    expect(dose([...both, actAt(8 * HOUR + 1, back('b')), actAt(8 * HOUR + 2, back('a'))])).toBeCloseTo(
      full,
      9,
    );
  });
  it('raises anew what a mistaken change had ended, once it is taken back', () => {
    const change = {
      type: 'charge-changed',
      station: 'pot-1',
      wax: 'inlay-dip',
      grams: 500,
      by: 'Mira',
      id: 'a',
    } as const;
    const back = { type: 'charge-taken-back', station: 'pot-1', id: 'a', by: 'Mira' } as const;
    const steps = begun(
      [
        ...hours,
        actAt(8 * HOUR + 1, change),
        ...every(60, 8 * HOUR + 60, 9 * HOUR, () => 90),
        actAt(9 * HOUR + 1, back),
        ...every(60, 9 * HOUR + 60, 10 * HOUR, () => 90),
      ],
      hot,
    );
    expect(steps.filter((rule) => rule === 'charge-spent')).toHaveLength(2);
  });
  it('can be taken back for a day, once', () => {
    const topUp = { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira', id: 'b' } as const;
    const back = { type: 'charge-taken-back', station: 'pot-1', id: 'b', by: 'Mira' } as const;
    const codes = (...at: readonly number[]) =>
      at.length === 0
        ? []
        : run(
            [...hours, actAt(8 * HOUR, topUp), ...at.map((second) => actAt(second, back))],
            hot,
          ).refusals.map(({ code }) => code);
    expect(codes(32 * HOUR)).toEqual([]);
    expect(codes(32 * HOUR + 1)).toEqual(['nothing-to-take-back']);
    expect(codes(9 * HOUR, 9 * HOUR + 1)).toEqual(['nothing-to-take-back']);
  });
  it('raised later counts from when it was done, within what means of ten minutes can tell', () => {
    const at = instant(4 * HOUR);
    const early = (act: 'topped-up' | 'charge-changed') =>
      act === 'topped-up'
        ? ({ type: act, station: 'pot-1', fraction: 0.25, by: 'Mira' } as const)
        : ({ type: act, station: 'pot-1', wax: 'inlay-dip', grams: 500, by: 'Mira' } as const);
    for (const act of ['topped-up', 'charge-changed'] as const) {
      const inTime = [...hours.slice(0, 240), actAt(4 * HOUR, early(act)), ...hours.slice(240)];
      const later = [...hours, actAt(8 * HOUR, { ...early(act), at })];
      expect(dose(later) / dose(inTime)).toBeCloseTo(1, 2);
    }
  });
  it('counts late readings where nothing was known, once, as if they had come in time', () => {
    const gap = hours.filter((_, index) => index < 100 || index >= 160);
    const end = hours.at(-1)?.receivedAt ?? instant(0);
    const late = hours.slice(100, 160).map((entry) => ({ ...entry, receivedAt: end }));
    expect(dose(gap)).toBeLessThan(dose(hours) * 0.9);
    expect(dose([...gap, ...late, ...late])).toBeCloseTo(dose(hours), 9);
  });
});
