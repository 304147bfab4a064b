import { describe, expect, it } from 'vitest';
import { stationLimits } from '../../lab/limits.ts';
import type { CaseStation } from '../../simulators/cases/case.ts';
import { labsWaxClass } from '../../lab/limits.ts';
import { caseLab } from './case-lab.ts';
import { labelledOf } from './rehearsed-case.ts';
import { refusedSettings } from './run-case.ts';

const WORKDAY = { time_zone: 'Europe/Berlin', days: ['Mon', 'Tue'], from: '07:30', to: '18:00' };
const pot: CaseStation = {
  id: 'pot',
  kind: 'melting pot',
  probes: [{ id: 'p1', where: 'in the wax', gateway: 'gw1', resolution_kelvin: 0.1, seconds: 5 }],
  wax: 'sticky wax',
  set_celsius: 76,
  ceiling_celsius: 90,
  hours: WORKDAY,
  ready_by: null,
  control: 'on-off',
};
const shelf: CaseStation = {
  ...pot,
  id: 'shelf',
  kind: 'storage shelf',
  wax: 'finished wax patterns waiting to be invested',
  set_celsius: null,
  hours: 'always on',
  low_celsius: 15,
  high_celsius: 28,
  window_celsius: [15, 28],
  ceiling_celsius: 28,
  swing_limit_kelvin_in_24_h: 9,
  probes: [{ id: 's1', where: '', gateway: 'gw2', resolution_kelvin: 0.1, seconds: 60 }],
};
const entered = (...stations: readonly CaseStation[]) => caseLab(labelledOf({ stations }));
const firstOf = (...stations: readonly CaseStation[]) => {
  const { lab, withoutSetting } = entered(...stations);
  const [station] = lab.stations;
  if (station === undefined) throw new Error('no station was entered');
  return { lab, withoutSetting, station, limits: stationLimits(station, lab) };
};

describe('a pot of a case', () => {
  it('has its window about its set temperature and the ceiling that the case gives', () => {
    const { limits } = firstOf(pot);
    expect([limits.windowLow?.value, limits.windowHigh?.value, limits.ceiling?.value]).toEqual([71, 81, 90]);
  });

  it('has a window that ends at its ceiling', () => {
    expect(firstOf({ ...pot, ceiling_celsius: 79 }).station.window_celsius).toEqual([71, 79]);
  });

  it('has a ceiling above that of its wax class by a figure of the class', () => {
    const { lab, limits } = firstOf({ ...pot, ceiling_celsius: 97 });
    expect(limits.ceiling?.value).toBe(97);
    expect(lab.waxOverrides).toEqual({ sticky: { ceiling: 97 } });
    expect(refusedSettings(lab)).toEqual([]);
  });

  it('has the melting range and the allowance at 70 °C that the case gives', () => {
    const { lab } = firstOf({
      ...pot,
      melting_range_celsius: [58, 66],
      charge_since: '2026-03-02T00:00:00.000Z',
      charge_limit_equivalent_hours_at_70_celsius: 400,
    });
    const wax = labsWaxClass('sticky', lab);
    expect([wax.melting.low.value, wax.melting.high.value]).toEqual([58, 66]);
    expect([wax.kinetics.reference.value, wax.doseAllowance.value]).toEqual([70, 400]);
    expect(lab.charges.map(({ station, wax: id }) => [station, id])).toEqual([['pot', 'sticky']]);
  });

  it('is to be ready by the time that the case gives', () => {
    const { lab } = firstOf({ ...pot, ready_by: '09:15' });
    expect(lab.stations.map(({ ready_by }) => ready_by)).toEqual(['09:15']);
    expect(refusedSettings(lab)).toEqual([]);
  });

  it('keeps beside what no setting takes', () => {
    const { withoutSetting } = firstOf({ ...pot, charge_since: '2026-01-01T00:00:00.000Z' });
    expect(withoutSetting.map(({ fact }) => fact)).toEqual([
      'set_celsius',
      'heat of the charge before the case',
    ]);
  });

  it('with another melting range than one of the same wax before it is listed', () => {
    const { lab, withoutSetting } = entered(
      { ...pot, melting_range_celsius: [58, 66] },
      { ...pot, id: 'pot-2', melting_range_celsius: [60, 69] },
    );
    expect(lab.waxOverrides.sticky).toMatchObject({ 'melting.low': 58 });
    expect(withoutSetting.some(({ station, fact }) => station === 'pot-2' && fact.includes('sticky'))).toBe(
      true,
    );
  });

  it('that is always on is not left on after hours', () => {
    expect(firstOf({ ...pot, hours: 'always on' }).station.rules?.['left-on']).toEqual({ enabled: false });
    expect(firstOf(pot).station.rules?.['left-on']).toBeUndefined();
  });
});

describe('an annealer of a case', () => {
  it('has its window, its soaking time and its limit of unevenness', () => {
    const { station, lab } = firstOf({
      ...pot,
      kind: 'softening cabinet',
      wax: 'inlay wax',
      window_celsius: [48, 52],
      ceiling_celsius: null,
      soak_minutes: 20,
      uneven_limit_kelvin: 2.5,
    });
    expect(station.window_celsius).toEqual([48, 52]);
    expect(station.rules).toMatchObject({
      'uneven-annealer': { limit_celsius_difference: 2.5 },
      'soak-incomplete': { needed_minutes: 20 },
    });
    expect(refusedSettings(lab)).toEqual([]);
  });
});

describe('a softening cabinet of a case', () => {
  it('has the ceiling that the case gives, also above where its wax begins to melt', () => {
    const { lab, limits, withoutSetting } = firstOf({
      ...pot,
      kind: 'annealer',
      wax: 'inlay wax',
      window_celsius: [48, 52],
      ceiling_celsius: 58,
    });
    expect(limits.ceiling?.value).toBe(58);
    expect(withoutSetting.map(({ fact }) => fact)).not.toContain('ceiling_celsius');
    expect(refusedSettings(lab)).toEqual([]);
  });
});

describe('a storage place of a case', () => {
  it('has its limits and its swing, and one pattern that may lie as warm as the place', () => {
    const { station, limits, lab } = firstOf(shelf);
    expect(limits.storageMax?.value).toBe(28);
    expect(station.rules?.['storage-swing']).toEqual({ limit_celsius_difference: 9 });
    expect(lab.patterns.map(({ stays }) => stays[0]?.station)).toEqual(['shelf']);
    expect(labsWaxClass('inlay-type-2', lab).storageMax.value).toBe(28);
    expect(refusedSettings(lab)).toEqual([]);
  });

  it('without patterns in it gets none', () => {
    expect(firstOf({ ...shelf, wax: 'empty' }).lab.patterns).toEqual([]);
  });
});

describe('the lab of a case', () => {
  it('works when its heaters do, with pauses as gaps', () => {
    const { lab } = entered({ ...pot, hours: { ...WORKDAY, pauses: [['12:00', '13:00']] } }, shelf);
    const day = [
      ['07:30', '12:00'],
      ['13:00', '18:00'],
    ];
    expect(lab.site.workingHours).toMatchObject({ mon: day, tue: day, wed: [], sun: [] });
  });

  it('has the hours that the product proposes where no station has any', () => {
    expect(entered(shelf).lab.site.workingHours.mon.length).toBeGreaterThan(0);
  });

  it('does not watch what the product has no kind for, and lists it', () => {
    const { lab, withoutSetting } = entered(pot, { ...pot, id: 'furnace', kind: 'burnout furnace' });
    expect(lab.stations.map(({ id }) => id)).toEqual(['pot']);
    expect(withoutSetting).toContainEqual({ station: 'furnace', fact: 'kind', value: '"burnout furnace"' });
  });
});
