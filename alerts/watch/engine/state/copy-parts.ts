// New memories of stations and probes, and copies of them that are written in place. A copy is made by writing into a new
// one: the engine of the language gives objects that are spread from others a form in which each number that is
// written allocates, which cost more than the rules.

import { startApart } from '../../measures/apart.ts';
import { freshCharge, runningCharge } from '../../measures/charge-dose.ts';
import { startDoorSigns } from '../../measures/door-signs.ts';
import { startBand } from '../../measures/heater-band.ts';
import { startSignal } from '../../measures/probe-signal.ts';
import { type Recent, startRecent } from '../../measures/recent.ts';
import { startTenMinutes } from '../../measures/ten-minutes.ts';
import { startTrend } from '../../measures/trend.ts';
import { startWorkFalls } from '../../measures/work-falls.ts';
import { startZigzag } from '../../measures/zigzag.ts';
import type { ProbeMemory, StationMemory } from './memory.ts';

/** `fresh` with the fields of `from`, in the order in which `fresh` has them. */
export const copyOf = <T extends object>(fresh: T, from: Partial<T>): T => Object.assign(fresh, from);

export const createStationMemory = (): StationMemory => ({
  at: 0,
  celsius: 0,
  uncertainty: 0,
  trend: null,
  tenMinutes: null,
  activity: null,
  fit: null,
  minutesToCeiling: null,
  charge: freshCharge(),
  hotHoursBefore: 0,
  earlierCharges: [],
  plannedOff: false,
  plannedOnAt: null,
  load: null,
  warmUp: null,
  recent: null,
  band: null,
  rhythm: null,
  sinking: null,
  workFalls: null,
  restFrom: {},
  overshoot: 0,
  overshootTop: 0,
  disturbedAt: 0,
  doors: null,
  moltenAt: 0,
  overnight: null,
  conditions: {},
});

export const createProbeMemory = (at: number, celsius: number): ProbeMemory => ({
  at,
  celsius,
  receivedAt: at,
  readings: 1,
  periodSeconds: 60,
  signal: startSignal(at, celsius),
  conditions: {},
});

const copyRecent = (recent: Recent): Recent => {
  const copy = copyOf(startRecent(0, 0), recent);
  copy.at = [...recent.at];
  copy.celsius = [...recent.celsius];
  return copy;
};

export function copyStation(memory: StationMemory): StationMemory {
  const copy = copyOf(createStationMemory(), memory);
  const { band, doors, overnight, recent, tenMinutes, trend, workFalls } = memory;
  copy.charge = runningCharge(memory.charge);
  copy.conditions = { ...memory.conditions };
  if (trend !== null) copy.trend = copyOf(startTrend(0, 0), trend);
  if (tenMinutes !== null) copy.tenMinutes = copyOf(startTenMinutes(0, 0), tenMinutes);
  if (overnight !== null) copy.overnight = { ...overnight };
  if (recent !== null) copy.recent = copyRecent(recent);
  if (doors != null) {
    copy.doors = copyOf(startDoorSigns(0, NOTHING_INSIDE), doors);
    copy.doors.recent = copyRecent(doors.recent);
  }
  if (workFalls != null) copy.workFalls = copyOf(startWorkFalls(), workFalls);
  if (band !== null) {
    copy.band = copyOf(startBand(0, 0), band);
    copy.band.usual = band.usual && { ...band.usual };
  }
  return copy;
}

const NOTHING_INSIDE = { celsius: 0, spread: 0, hottest: 0, fallsTo: 0, usualFall: 0, noise: 0, step: 0 };

export function copyProbe(memory: ProbeMemory): ProbeMemory {
  const copy = copyOf(createProbeMemory(0, 0), memory);
  copy.signal = copyOf(startSignal(0, 0), memory.signal);
  copy.conditions = { ...memory.conditions };
  if (memory.apart !== undefined) copy.apart = copyOf(startApart(0, 0, 0), memory.apart);
  if (memory.zigzag !== undefined) copy.zigzag = copyOf(startZigzag(0, 0), memory.zigzag);
  return copy;
}
