// Ohms and millivolts of bare sensors as degrees, by what the lab entered as the sensor. A value whose sensor is not
// described, or whose cold junction is not known, is a rejection: a guess would look like a temperature.

import type { ReadingsEntry } from '../../lab/entry.ts';
import type { Probe } from '../../lab/lab.ts';
import type { ElectricalReading, Reading } from '../../lab/reading.ts';
import { sensorCelsius } from '../../lab/sensor.ts';
import { failure, type Problem, type Result, success } from '../../wax/result.ts';
import { type Celsius, type EpochMillis, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { temperature } from '../decode/temperature.ts';
import {
  electricalPart,
  gatewayRecord,
  probeRecord,
  type QualifyPart,
  type QualifyParts,
  type QualifyState,
} from './probe-record.ts';

/** A cold junction drifts with the room; older than this it is not known. Common practice. */
const COLD_JUNCTION_MILLIS = 5 * MILLIS_PER_MINUTE;

export interface Converted {
  readonly readings: readonly Reading[];
  readonly refused: readonly { readonly reading: ElectricalReading; readonly problem: Problem }[];
  readonly changedParts: readonly QualifyPart[];
}

/**
 * `parts` is the caller's copy of the state; the newest value of each probe is kept in it as it came. `corrected` are
 * the other readings of the entry, among which the one of a cold junction may be.
 */
export function convertElectrical(
  parts: QualifyParts,
  entry: ReadingsEntry,
  corrected: readonly Reading[],
  probeOf: (id: string) => Probe | undefined,
): Converted {
  const readings: Reading[] = [];
  const refused: Converted['refused'][number][] = [];
  const changed = new Set<QualifyPart>();
  for (const reading of entry.electrical ?? []) {
    const part = electricalPart(reading.probe);
    parts[part] = { gateway: entry.gateway, at: reading.at, unit: reading.unit, value: reading.value };
    changed.add(part);
    const converted = celsiusOf(probeOf(reading.probe), reading, (junction) =>
      coldJunctionAt(parts, entry, corrected, junction, reading.at),
    );
    const celsius = converted.ok ? temperature(converted.value) : converted;
    if (celsius.ok)
      readings.push({
        probe: reading.probe,
        at: reading.at,
        celsius: celsius.value,
        quality: reading.quality,
      });
    else refused.push({ reading, problem: celsius.problem });
  }
  return { readings, refused, changedParts: [...changed] };
}

function celsiusOf(
  probe: Probe | undefined,
  reading: ElectricalReading,
  coldJunctionOf: (junction: string) => Result<Celsius>,
): Result<Celsius> {
  const { probe: id, unit } = reading;
  if (probe?.sensor === undefined) return failure('sensor-not-described', { probe: id, unit });
  const { kind, cold_junction_celsius: fixed, cold_junction_probe: junction } = probe.sensor;
  if (kind !== 'thermocouple') return sensorCelsius(probe.sensor, reading, null);
  const coldJunction =
    fixed !== undefined
      ? success(fixed as Celsius)
      : junction === undefined
        ? failure('cold-junction-unknown')
        : coldJunctionOf(junction);
  return coldJunction.ok ? sensorCelsius(probe.sensor, reading, coldJunction.value) : coldJunction;
}

/** The nearest reading of the junction's probe: in the same message, which may be of the past, or its newest one. */
function coldJunctionAt(
  state: QualifyState,
  entry: ReadingsEntry,
  corrected: readonly Reading[],
  junction: string,
  at: EpochMillis,
): Result<Celsius> {
  const record = probeRecord(state, junction);
  // Instants of the message are of the gateway's clock still, the record's are of the lab's time.
  const offset = gatewayRecord(state, entry.gateway)?.clock?.offset ?? 0;
  const candidates = [
    ...corrected.filter(({ probe }) => probe === junction),
    ...(record === undefined ? [] : [{ ...record, at: record.at - offset }]),
  ].filter(({ quality }) => quality !== 'suspect');
  const away = (candidate: { readonly at: number }): number => Math.abs(candidate.at - at);
  const [nearest] = candidates.sort((first, second) => away(first) - away(second));
  return nearest !== undefined && away(nearest) <= COLD_JUNCTION_MILLIS
    ? success(nearest.celsius as Celsius)
    : failure('cold-junction-unknown');
}
