import { describe, expect, it } from 'vitest';
import { waxClass } from '../wax/wax-class.ts';
import type { Charge } from './charge.ts';
import type { Lab } from './lab.ts';
import { highestOwnCeiling, stationLimits } from './limits.ts';
import type { Station } from './station.ts';
import type { StationKind } from './station-kinds.ts';
import type { WaxLot } from './wax-lot.ts';

const lab: Lab = {
  site: {
    id: 'north',
    name: 'North',
    timeZone: 'UTC',
    workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
    holidays: [],
  },
  stations: [],
  probes: [],
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
};
const station = (kind: StationKind, more: Partial<Station> = {}): Station => ({
  id: 'one',
  name: 'One',
  kind,
  wax: 'inlay-type-1',
  ...more,
});
const inlay = waxClass('inlay-type-1');

describe('the limits of a station', () => {
  it.each([
    ['melt-pot', inlay.potWindow],
    ['annealer', inlay.annealWindow],
    ['water-bath', inlay.bathWindow],
    ['lamp', inlay.workingWindow],
  ] as const)('of kind %s are those of what it does with the wax', (kind, window) => {
    const limits = stationLimits(station(kind), lab);
    expect(window).toBeDefined();
    expect([limits.windowLow, limits.windowHigh]).toEqual([window?.low, window?.high]);
    expect(limits.storageMax).toBeNull();
  });

  it('end at the pot maximum of the class, in an annealer where the wax begins to melt', () => {
    expect(stationLimits(station('dip-pot'), lab).ceiling).toEqual(inlay.ceiling);
    expect(stationLimits(station('annealer'), lab).ceiling).toEqual(inlay.melting.low);
    expect(inlay.melting.low.value).toBeLessThan(inlay.ceiling.value);
  });

  it('may be set up to the ceiling of the wax, in an annealer too', () => {
    expect(highestOwnCeiling(station('annealer'), lab)).toBe(inlay.ceiling.value);
    expect(highestOwnCeiling(station('annealer', { wax: null }), lab)).toBeNull();
    expect(highestOwnCeiling(station('cabinet'), lab)).toBeNull();
  });

  it('have for storage only the warmest that the wax may lie at', () => {
    expect(stationLimits(station('cabinet'), lab)).toEqual({
      windowLow: null,
      windowHigh: null,
      ceiling: null,
      storageMax: inlay.storageMax,
    });
  });

  it('are marked "lab\'s own" for what the station or the lab\'s class overrides, and what stood there before', () => {
    const own = stationLimits(station('melt-pot', { ceiling_celsius: 80, window_celsius: [66, 72] }), lab);
    expect([own.windowLow?.value, own.windowHigh?.value, own.ceiling?.value]).toEqual([66, 72, 80]);
    expect(own.ceiling?.standing).toBe("lab's own");
    expect(own.ceiling?.source.values).toMatchObject({ instead_value: inlay.ceiling.value });
    const byClass = stationLimits(station('melt-pot'), {
      ...lab,
      waxOverrides: { 'inlay-type-1': { ceiling: 85 } },
    });
    expect([byClass.ceiling?.value, byClass.ceiling?.standing]).toEqual([85, "lab's own"]);
    const byBoth = stationLimits(station('melt-pot', { ceiling_celsius: 80 }), {
      ...lab,
      waxOverrides: { 'inlay-type-1': { ceiling: 85 } },
    });
    expect(byBoth.ceiling?.source.values).toEqual({
      instead_value: 85,
      instead_standing: "lab's own",
      instead_source: 'set-by-lab',
    });
  });

  it('are those of the charge when another wax is in the pot than was named', () => {
    const charge: Charge = {
      id: 'c',
      station: 'one',
      wax: 'sticky',
      grams: 30,
      startedAt: '2026-03-02T08:00:00Z',
      topUps: [],
      cleanedAt: null,
      endedAt: null,
    };
    const limits = stationLimits(station('melt-pot'), { ...lab, charges: [charge] });
    expect(limits.ceiling).toEqual(waxClass('sticky').ceiling);
  });

  it('are unknown while no wax is named, but for what the lab set', () => {
    const limits = stationLimits(station('dip-pot', { wax: null, ceiling_celsius: 95 }), lab);
    expect(limits).toEqual({
      windowLow: null,
      windowHigh: null,
      ceiling: { value: 95, standing: "lab's own", source: { code: 'set-for-station' } },
      storageMax: null,
    });
  });

  it('stay those of the class when an override in the database no longer fits', () => {
    const limits = stationLimits(station('melt-pot'), {
      ...lab,
      waxOverrides: { 'inlay-type-1': { nonsense: 1 } },
    });
    expect(limits.ceiling).toEqual(inlay.ceiling);
  });
});

describe('the limits of a pot with wax of a lot', () => {
  const pot = station('melt-pot');
  const lot = (id: string, sheetValues: WaxLot['sheetValues']): WaxLot => ({
    id,
    wax: 'inlay-type-1',
    maker: 'North Wax',
    lot: `N-${id}`,
    expiresOn: null,
    sheetValues,
    recordedAt: '2031-01-01T08:00:00.000Z',
    recordedBy: 'Tom',
  });
  const charge: Charge = {
    id: 'one-a',
    station: 'one',
    wax: 'inlay-type-1',
    lot: '1',
    grams: 100,
    startedAt: '2031-01-02T08:00:00.000Z',
    topUps: [],
    cleanedAt: null,
    endedAt: null,
  };
  const withLots = (lots: readonly WaxLot[], topUps: Charge['topUps'] = []): Lab => ({
    ...lab,
    lots,
    charges: [{ ...charge, topUps }],
    waxOverrides: { 'inlay-type-1': { ceiling: 92 } },
  });
  const topUp = (fraction: number) => ({ at: '2031-01-03T08:00:00.000Z', fraction, by: 'Tom', lot: '2' });

  it("are those of the maker's sheet before the lab's own and the table's, with maker and lot as their source", () => {
    const { ceiling, windowLow } = stationLimits(pot, withLots([lot('1', { ceiling: 88 })]));
    expect(ceiling).toEqual({
      value: 88,
      standing: "maker's sheet",
      source: { code: 'sheet-of-lot', values: { maker: 'North Wax', lot: 'N-1' } },
    });
    expect(windowLow).toEqual(inlay.potWindow?.low);
  });

  it('have the lowest ceiling of its lots, and the window of the one that there is most of', () => {
    const sheets = [
      lot('1', { ceiling: 91, 'potWindow.low': 71 }),
      lot('2', { ceiling: 86, 'potWindow.low': 74 }),
    ];
    const little = stationLimits(pot, withLots(sheets, [topUp(0.1)]));
    expect([little.ceiling?.value, little.windowLow?.value]).toEqual([86, 71]);
    const most = stationLimits(pot, withLots(sheets, [topUp(0.7)]));
    expect([most.ceiling?.value, most.windowLow?.value]).toEqual([86, 74]);
    const trace = stationLimits(pot, withLots(sheets, [topUp(0.04)]));
    expect(trace.ceiling?.value).toBe(91);
  });

  it("are the lab's own where a sheet contradicts them", () => {
    const broken = stationLimits(pot, withLots([lot('1', { ceiling: 10 })]));
    expect(broken.ceiling?.value).toBe(92);
  });
});
