// A stored reading traced back to what came in: the correction of its time is taken off, then the sensor's function is
// inverted.

import type { Probe } from '../../lab/lab.ts';
import { probeVersionAt } from '../../lab/probes/probe-stays.ts';
import { probeUncorrected } from '../../lab/probes/probe-correction.ts';
import type { Reading } from '../../lab/reading.ts';
import { sensorValue } from '../../lab/sensor.ts';
import { type Celsius, epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { RunningLab } from './running-lab.ts';

export interface ReadingOrigin {
  readonly reading: Reading;
  /** As the probe was described then; null where it was not. */
  readonly probe: Probe | null;
  /** Before the correction. */
  readonly measured_celsius: number;
  /** What came in; null for a probe that sends degrees, and where it cannot be worked out. */
  readonly electrical: { readonly unit: 'Ohm' | 'mV'; readonly value: number } | null;
  /** Where a thermocouple ended. */
  readonly coldJunction_celsius: number | null;
}

const LOOK_BACK_MILLIS = 24 * MILLIS_PER_HOUR;
/** Within this the reading of a cold junction is taken, as in the conversion. */
const COLD_JUNCTION_MILLIS = 5 * MILLIS_PER_MINUTE;
const MOST_READINGS = 100_000;

const lastBefore = async (
  running: RunningLab,
  probe: string,
  at: number,
  millis: number,
): Promise<Reading | null> => {
  const span = { from: epochMillis(at - millis), to: epochMillis(at + 1) };
  const readings = await running.store.raw({ probe, ...span, limit: MOST_READINGS });
  return readings.at(-1) ?? null;
};

/** Of the newest reading not later than `at`, within a day before it; null where there is none. */
export async function readingOrigin(
  running: RunningLab,
  id: string,
  at: number,
): Promise<ReadingOrigin | null> {
  const reading =
    (await lastBefore(running, id, at, MILLIS_PER_HOUR)) ??
    (await lastBefore(running, id, at, LOOK_BACK_MILLIS));
  if (reading === null) return null;
  const probe = probeVersionAt(running.repository.history.probeVersions(id), reading.at);
  const measured_celsius = probe === null ? reading.celsius : probeUncorrected(probe, reading.celsius);
  const coldJunction = probe === null ? null : await coldJunctionOf(running, probe, reading.at);
  const came =
    probe?.sensor === undefined
      ? null
      : sensorValue(probe.sensor, measured_celsius as Celsius, coldJunction as Celsius | null);
  return {
    reading,
    probe,
    measured_celsius,
    electrical: came?.ok ? came.value : null,
    coldJunction_celsius: coldJunction,
  };
}

async function coldJunctionOf(running: RunningLab, { sensor }: Probe, at: number): Promise<number | null> {
  if (sensor?.cold_junction_celsius !== undefined) return sensor.cold_junction_celsius;
  if (sensor?.cold_junction_probe === undefined) return null;
  const reading = await lastBefore(running, sensor.cold_junction_probe, at, COLD_JUNCTION_MILLIS);
  return reading?.celsius ?? null;
}
