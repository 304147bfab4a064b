// Battery and radio signal as messages of any format carry them: within what each can be, and at an instant that is not
// of the future, so that a clock that runs ahead cannot hold up what comes after it.

import type { DeviceStatus } from '../../lab/device-status.ts';
import { failure, type Result, success } from '../../wax/result.ts';
import { epochMillis } from '../../wax/units.ts';
import { probeId } from './identifier.ts';
import { noInstant } from './measured-at.ts';

export type StatusFigure = 'battery_percent' | 'battery_volts' | 'signal_dbm';

/** Units in which a battery is reported, in lower case, and what their values are divided by. */
export const BATTERY_UNITS: ReadonlyMap<string, { readonly figure: StatusFigure; readonly divisor: number }> =
  new Map([
    ['%', { figure: 'battery_percent', divisor: 1 }],
    ['v', { figure: 'battery_volts', divisor: 1 }],
    ['mv', { figure: 'battery_volts', divisor: 1000 }],
  ] as const);

const BOUNDS: Readonly<Record<StatusFigure, { least: number; most: number; unit: string }>> = {
  battery_percent: { least: 0, most: 100, unit: '%' },
  battery_volts: { least: 0, most: 60, unit: 'V' },
  signal_dbm: { least: -200, most: 50, unit: 'dBm' },
};

export interface GivenStatus {
  readonly probe: string | null;
  readonly figure: StatusFigure;
  readonly value: unknown;
  /** Unix milliseconds. */
  readonly millis: number;
}

export function deviceStatus(given: GivenStatus, receivedAt: number): Result<DeviceStatus> {
  const { figure, value, millis } = given;
  const id = given.probe === null ? success(null) : probeId(given.probe);
  if (!id.ok) return id;
  const { least, most, unit } = BOUNDS[figure];
  if (typeof value !== 'number' || !(value >= least && value <= most))
    return failure('status-out-of-range', { least, most, unit }, value);
  const isInstant = noInstant(millis, receivedAt) === null;
  const at = epochMillis(isInstant ? Math.min(Math.round(millis), receivedAt) : receivedAt);
  return success({ probe: id.value, at, [figure]: value });
}
