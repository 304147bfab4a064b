import { describe, expect, it } from 'vitest';
import type { MonthSheet } from '../../../api/month.ts';
import { monthFigures } from './month-figures.ts';

const night = (minCelsius: number | null, largestSwingCelsius: number) => ({
  date: '2031-03-03',
  from: '2031-03-02T17:00:00Z',
  opens: '2031-03-03T07:00:00Z',
  minCelsius,
  maxCelsius: minCelsius,
  meanKineticCelsius: minCelsius,
  largestSwingCelsius,
  swings: 1,
  minutesOutOfBand: 0,
  gapMinutes: 0,
  verdict: 'may-be-invested',
});
const place = (nights: MonthSheet['places'][number]['nights'], ended: number, remade: number) => ({
  station: 'shelf',
  name: 'Shelf',
  storageMaxCelsius: 25,
  nights,
  ended,
  remade,
  invested: ended - remade,
  discarded: 0,
  swings: 1,
  minutesOutOfBand: 0,
});
const heater = (doseHours: number | null, unseenMinutes = 0) => ({
  station: 'pot',
  name: 'Pot',
  closedMinutes: 60,
  unseenMinutes,
  onMinutes: 5,
  kilowattHours: null,
  doseHours,
  sparedDoseHours: null,
});
const figure = (name: 'chattering' | 'fleeting' | 'per-day', value: number | null) => ({
  name,
  value,
  atMost: 0,
  unit: 'count' as const,
  holds: null,
  standing: 'from memory' as const,
  source: { code: 'isa-18-2', text: '' },
});
const month = (parts: Partial<Parameters<typeof monthFigures>[0]>) =>
  monthFigures({
    month: '2031-03',
    places: [],
    heaters: [],
    alarms: { announced: 0, isBasis: true, figures: [], most: [] },
    ...parts,
  });

describe('the figures by which months are compared', () => {
  it('take the mean swing of the nights that were measured, over all places', () => {
    const places = [place([night(20, 1), night(null, 0)], 4, 1), place([night(18, 4)], 2, 0)];
    expect(month({ places })).toMatchObject({ swing_celsius_difference: 2.5, ended: 6, remade: 1 });
  });

  it('add the heat doses that are known, and are null where none is', () => {
    expect(month({ heaters: [heater(1.5), heater(null), heater(2)] }).dose_equivalent_hours).toBe(3.5);
    expect(month({ heaters: [heater(null)] }).dose_equivalent_hours).toBeNull();
    expect(month({}).swing_celsius_difference).toBeNull();
  });

  it('are null for a month in which nothing was measured, and count no alarm as none', () => {
    const alarms = { announced: 0, isBasis: true, figures: [figure('chattering', 0)], most: [] };
    const unmeasured = { places: [place([night(null, 0)], 0, 0)], heaters: [heater(0, 60)], alarms };
    expect(month(unmeasured)).toMatchObject({ dose_equivalent_hours: null, alarms: null, nuisances: null });
    expect(month({ ...unmeasured, heaters: [heater(0, 59)] })).toMatchObject({
      dose_equivalent_hours: 0,
      alarms: 0,
      nuisances: 0,
    });
  });

  it('count chattering and fleeting alarms as nuisances, and no other figure', () => {
    const figures = [figure('chattering', 2), figure('fleeting', 3), figure('per-day', 9)];
    const alarms = { announced: 12, isBasis: true, figures, most: [] };
    expect(month({ alarms })).toMatchObject({ alarms: 12, nuisances: 5 });
  });
});
