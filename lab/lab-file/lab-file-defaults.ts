// What a lab file means where it leaves something out; reading and writing share it.

import type { Person } from '../person.ts';
import { type Sensor, uncertaintyByClass } from '../sensor.ts';

/** Expanded uncertainty of a probe that nobody calibrated: ±0.5 °C of usual digital probes, common practice. */
export const UNCERTAINTY_UNTIL_CALIBRATED = 0.5;

/** The same for a probe whose sensor may have a tolerance class. */
export const uncertaintyUntilCalibrated = (sensor: Sensor | undefined): number =>
  (sensor === undefined ? null : uncertaintyByClass(sensor)) ?? UNCERTAINTY_UNTIL_CALIBRATED;

export const PERSON_DEFAULTS = {
  language: 'en',
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: false,
} as const satisfies Omit<Person, 'id' | 'name' | 'role'>;
