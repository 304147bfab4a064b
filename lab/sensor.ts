// What a bare sensor is, as a lab describes it, and its ohms or millivolts as degrees. The science is in wax/probes.

import { platinumCelsius, platinumOhms } from '../wax/probes/platinum.ts';
import {
  betaCelsius,
  betaOhms,
  type SteinhartHart,
  thermistorCelsius,
  thermistorOhms,
} from '../wax/probes/thermistor.ts';
import { thermocoupleCelsius, thermocoupleMillivolts } from '../wax/probes/thermocouple.ts';
import { standardUncertaintyOf, type ToleranceClass, toleranceOf } from '../wax/probes/tolerance-class.ts';
import { failure, type Result } from '../wax/result.ts';
import type { Celsius } from '../wax/units.ts';
import type { ElectricalReading } from './reading.ts';

export const SENSOR_KINDS = ['platinum', 'thermocouple', 'thermistor'] as const;
export const SENSOR_TOLERANCES = [
  'platinum-AA',
  'platinum-A',
  'platinum-B',
  'platinum-C',
  'K-1',
  'K-2',
  'T-1',
  'T-2',
] as const satisfies readonly ToleranceClass[];

/** As the lab file has it; which fields belong to which kind is checked by `sensorFaults`. */
export interface Sensor {
  readonly kind: (typeof SENSOR_KINDS)[number];
  /** Tolerance class that the maker promises. */
  readonly tolerance?: (typeof SENSOR_TOLERANCES)[number];
  readonly element?: 'pt100' | 'pt1000';
  readonly wires?: 2 | 3 | 4;
  /** What both wires add in two-wire connection. */
  readonly lead_ohms?: number;
  readonly thermocouple?: 'K' | 'T';
  /** Where the thermocouple ends: a fixed temperature, or the probe that measures it. */
  readonly cold_junction_celsius?: number;
  readonly cold_junction_probe?: string;
  readonly r25_ohms?: number;
  readonly beta_kelvin?: number;
  /** Steinhart-Hart. */
  readonly a?: number;
  readonly b?: number;
  readonly c?: number;
}

type Field = Exclude<keyof Sensor, 'kind' | 'tolerance'>;
const FIELDS: Readonly<Record<Sensor['kind'], readonly Field[]>> = {
  platinum: ['element', 'wires', 'lead_ohms'],
  thermocouple: ['thermocouple', 'cold_junction_celsius', 'cold_junction_probe'],
  thermistor: ['r25_ohms', 'beta_kelvin', 'a', 'b', 'c'],
};
const ALL_FIELDS: readonly Field[] = Object.values(FIELDS).flat();

export interface SensorFault {
  readonly field: keyof Sensor;
  readonly code: 'sensor-field-missing' | 'sensor-field-of-another-kind' | 'sensor-field-too-many';
}

const presentFields = (sensor: Sensor, fields: readonly Field[]): readonly Field[] =>
  fields.filter((field) => sensor[field] !== undefined);

/** Fields that are missing, too many or of another kind; none where the sensor can be worked with. */
export function sensorFaults(sensor: Sensor): readonly SensorFault[] {
  const foreign = presentFields(sensor, ALL_FIELDS)
    .filter((field) => !FIELDS[sensor.kind].includes(field))
    .map((field): SensorFault => ({ field, code: 'sensor-field-of-another-kind' }));
  const { tolerance } = sensor;
  const isForeignTolerance = tolerance !== undefined && !tolerance.startsWith(tolerancePrefix(sensor));
  return [
    ...foreign,
    ...(isForeignTolerance ? [{ field: 'tolerance', code: 'sensor-field-of-another-kind' } as const] : []),
    ...OWN_FAULTS[sensor.kind](sensor),
  ];
}

const tolerancePrefix = ({ kind, thermocouple }: Sensor): string =>
  kind === 'platinum' ? 'platinum-' : kind === 'thermocouple' ? `${thermocouple ?? ''}-` : 'none';

const missingField = (field: Field): SensorFault => ({ field, code: 'sensor-field-missing' });
const tooMany = (field: Field): SensorFault => ({ field, code: 'sensor-field-too-many' });

const OWN_FAULTS: Readonly<Record<Sensor['kind'], (sensor: Sensor) => readonly SensorFault[]>> = {
  platinum: ({ element, wires, lead_ohms }) => [
    ...(element === undefined ? [missingField('element')] : []),
    // Three and four wires measure their own resistance away.
    ...(lead_ohms !== undefined && wires !== 2 ? [tooMany('lead_ohms')] : []),
  ],
  thermocouple: ({ thermocouple, cold_junction_celsius, cold_junction_probe }) => [
    ...(thermocouple === undefined ? [missingField('thermocouple')] : []),
    ...(cold_junction_celsius === undefined && cold_junction_probe === undefined
      ? [missingField('cold_junction_celsius')]
      : []),
    ...(cold_junction_celsius !== undefined && cold_junction_probe !== undefined
      ? [tooMany('cold_junction_celsius')]
      : []),
  ],
  thermistor: (sensor) => {
    const beta = presentFields(sensor, ['r25_ohms', 'beta_kelvin']);
    const coefficients = presentFields(sensor, ['a', 'b', 'c']);
    if (beta.length > 0 && coefficients.length > 0) return coefficients.map(tooMany);
    const wanted: readonly Field[] = coefficients.length > 0 ? ['a', 'b', 'c'] : ['r25_ohms', 'beta_kelvin'];
    return wanted.filter((field) => sensor[field] === undefined).map(missingField);
  },
};

const steinhartHart = ({ a = Number.NaN, b = Number.NaN, c = Number.NaN }: Sensor): SteinhartHart => ({
  a,
  b,
  c,
});
const beta = ({ r25_ohms: r25 = Number.NaN, beta_kelvin = Number.NaN }: Sensor) => ({
  r25,
  beta: beta_kelvin,
});

/**
 * What the sensor measured. `coldJunction` is the temperature where a thermocouple ends; the other kinds need none.
 * @example sensorCelsius({ kind: 'platinum', element: 'pt100' }, { unit: 'Ohm', value: 123.24 }, null) // 60.0 °C
 */
export function sensorCelsius(
  sensor: Sensor,
  { unit, value }: Pick<ElectricalReading, 'unit' | 'value'>,
  coldJunction: Celsius | null,
): Result<Celsius> {
  const expected = sensor.kind === 'thermocouple' ? 'mV' : 'Ohm';
  if (unit !== expected) return failure('sensor-of-another-unit', { unit, expected });
  switch (sensor.kind) {
    case 'platinum':
      return platinumCelsius(sensor.element ?? 'pt100', value, sensor.lead_ohms ?? 0);
    case 'thermocouple':
      return coldJunction === null
        ? failure('cold-junction-unknown')
        : thermocoupleCelsius(sensor.thermocouple ?? 'K', value, coldJunction);
    case 'thermistor':
      return sensor.a === undefined
        ? betaCelsius(beta(sensor), value)
        : thermistorCelsius(steinhartHart(sensor), value);
  }
}

/** The inverse of `sensorCelsius`: what must have come in for this temperature. */
export function sensorValue(
  sensor: Sensor,
  celsius: Celsius,
  coldJunction: Celsius | null,
): Result<Pick<ElectricalReading, 'unit' | 'value'>> {
  const inUnit = (unit: 'Ohm' | 'mV', value: Result<number>, more = 0) =>
    value.ok ? { ok: true as const, value: { unit, value: value.value + more } } : value;
  switch (sensor.kind) {
    case 'platinum':
      return inUnit('Ohm', platinumOhms(sensor.element ?? 'pt100', celsius), sensor.lead_ohms ?? 0);
    case 'thermocouple':
      return coldJunction === null
        ? failure('cold-junction-unknown')
        : inUnit('mV', thermocoupleMillivolts(sensor.thermocouple ?? 'K', celsius, coldJunction));
    case 'thermistor':
      return inUnit(
        'Ohm',
        sensor.a === undefined
          ? betaOhms(beta(sensor), celsius)
          : thermistorOhms(steinhartHart(sensor), celsius),
      );
  }
}

/** Where the tolerance of a class is taken for the uncertainty of a probe: a hot pot. */
const TOLERANCE_AT = 100 as Celsius;

/** Expanded (k = 2) by the tolerance class, at 100 °C; null where the maker promises none. */
export function uncertaintyByClass({ tolerance }: Sensor): number | null {
  if (tolerance === undefined) return null;
  const kelvins = toleranceOf(tolerance, TOLERANCE_AT);
  return kelvins.ok ? Math.round(2 * standardUncertaintyOf(kelvins.value) * 100) / 100 : null;
}
