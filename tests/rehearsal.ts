// A small lab and its entries for tests of rules and alarms: one dip pot or more probes, one gateway, times in
// seconds after a Wednesday morning.

import type { Act } from '../lab/act.ts';
import type { QualifyParts } from '../collector/qualify/probe-record.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import type { ActEntry, Entry, GatewayEntry, ReadingsEntry, TickEntry } from '../lab/entry.ts';
import type { Lab, Probe } from '../lab/lab.ts';
import type { Quality } from '../lab/reading.ts';
import type { Station } from '../lab/station.ts';
import { celsius, epochMillis } from '../wax/units.ts';

/** Wednesday, 2026-03-04 09:00 in Berlin. */
export const START = Date.UTC(2026, 2, 4, 8);
export const instant = (seconds: number) => epochMillis(START + Math.round(seconds * 1000));

export const probeOf = (id: string, station: string | null, more: Partial<Probe> = {}): Probe => ({
  id,
  gateway: 'g1',
  station,
  correction_celsius: 0,
  uncertainty_celsius: 0,
  ...more,
});

const WORKDAY = [['08:00', '18:00']] as const;

export const labOf = (
  stations: readonly Station[],
  probes: readonly Probe[],
  more: Partial<Lab> = {},
): Lab => ({
  site: {
    id: 'test-lab',
    name: 'Test lab',
    timeZone: 'Europe/Berlin',
    workingHours: { mon: WORKDAY, tue: WORKDAY, wed: WORKDAY, thu: WORKDAY, fri: WORKDAY, sat: [], sun: [] },
    holidays: [],
  },
  stations,
  probes,
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
  ...more,
});

export const dipPot: Station = {
  id: 'pot-1',
  name: 'Dip pot 1',
  kind: 'dip-pot',
  wax: 'inlay-dip',
  window_celsius: [85, 95],
  ceiling_celsius: 100,
};

export const waterBath: Station = {
  ...dipPot,
  kind: 'water-bath',
  wax: 'bite-registration',
  window_celsius: [43, 55],
  ceiling_celsius: 65,
};

export const shelf: Station = { id: 'shelf-1', name: 'Shelf 1', kind: 'shelf', wax: 'inlay-type-1' };

/** One dip pot with a window of 85 to 95 °C and a ceiling of 100 °C, watched by `probes` probes p1, p2, ... */
export const potLab = (probes = 1, rules: Station['rules'] = {}): Lab =>
  labOf(
    [{ ...dipPot, rules }],
    Array.from({ length: probes }, (_, index) => probeOf(`p${index + 1}`, 'pot-1')),
  );

export const readingOf = (
  probe: string,
  second: number,
  value: number,
  { arrives = second, quality = 'good' as Quality, gateway = 'g1' } = {},
): ReadingsEntry => ({
  kind: 'readings',
  receivedAt: instant(arrives),
  gateway,
  readings: [{ probe, at: instant(second), celsius: celsius(value), quality }],
});

export const tickAt = (second: number): TickEntry => ({ kind: 'tick', receivedAt: instant(second) });
export const gatewaySays = (second: number, gateway: string, online: boolean): GatewayEntry => ({
  kind: 'gateway',
  receivedAt: instant(second),
  gateway,
  online,
});
export const actAt = (second: number, act: Act): ActEntry => ({
  kind: 'act',
  receivedAt: instant(second),
  act,
});

/** The entries as the rules see them: times corrected, what was there before left out. */
export function qualifyEntries(entries: readonly Entry[], lab: Lab): readonly Entry[] {
  const parts: QualifyParts = {};
  const stored = new Map<string, number>();
  return entries.flatMap((raw) => {
    const { entry } = qualify(parts, raw, lab, (probe, at) => stored.get(`${probe} ${at}`) ?? null);
    if (entry?.kind === 'readings')
      for (const { probe, at, celsius: value } of entry.readings) stored.set(`${probe} ${at}`, value);
    return entry ?? [];
  });
}
