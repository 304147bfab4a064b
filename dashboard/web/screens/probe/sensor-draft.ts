// A sensor as it is in the form, and what of it is saved: the fields of its kind alone. Pure. An empty field is null
// or an empty text.

import { uncertaintyUntilCalibrated } from '../../../../lab/lab-file/lab-file-defaults.ts';
import { SENSOR_TOLERANCES, type Sensor } from '../../../../lab/sensor.ts';
import type { ProbeBody } from '../../../api/lab-bodies.ts';
import { type DescribedProbe, probeBody } from '../set-up/probe-body.ts';

export type ColdJunction = 'fixed' | 'probe';
export type Curve = 'beta' | 'coefficients';

export interface SensorDraft {
  /** Empty: the probe sends degrees. */
  readonly kind: Sensor['kind'] | '';
  readonly tolerance: string;
  readonly element: 'pt100' | 'pt1000';
  readonly wires: 2 | 3 | 4;
  readonly lead_ohms: number | null;
  readonly thermocouple: 'K' | 'T';
  readonly coldJunction: ColdJunction;
  readonly cold_junction_celsius: number | null;
  readonly cold_junction_probe: string;
  readonly curve: Curve;
  readonly r25_ohms: number | null;
  readonly beta_kelvin: number | null;
  readonly a: number | null;
  readonly b: number | null;
  readonly c: number | null;
}

export const sensorDraft = ({ sensor }: DescribedProbe): SensorDraft => ({
  kind: sensor?.kind ?? '',
  tolerance: sensor?.tolerance ?? '',
  element: sensor?.element ?? 'pt100',
  wires: sensor?.wires ?? 3,
  lead_ohms: sensor?.lead_ohms ?? null,
  thermocouple: sensor?.thermocouple ?? 'K',
  coldJunction: sensor?.cold_junction_celsius === undefined ? 'probe' : 'fixed',
  cold_junction_celsius: sensor?.cold_junction_celsius ?? null,
  cold_junction_probe: sensor?.cold_junction_probe ?? '',
  curve: sensor?.a === undefined ? 'beta' : 'coefficients',
  r25_ohms: sensor?.r25_ohms ?? null,
  beta_kelvin: sensor?.beta_kelvin ?? null,
  a: sensor?.a ?? null,
  b: sensor?.b ?? null,
  c: sensor?.c ?? null,
});

/** Classes that a maker may promise of this kind. */
export const tolerancesOf = ({ kind, thermocouple }: SensorDraft): readonly string[] => {
  const prefix = kind === 'thermocouple' ? `${thermocouple}-` : 'platinum-';
  return kind === '' || kind === 'thermistor'
    ? []
    : SENSOR_TOLERANCES.filter((tolerance) => tolerance.startsWith(prefix));
};

const fieldIfFilled = <K extends string>(key: K, value: number | null): Partial<Record<K, number>> =>
  value === null ? {} : ({ [key]: value } as Record<K, number>);

/** Undefined: it sends degrees. What is missing is left to the server to name. */
export function sensorOf(draft: SensorDraft): Sensor | undefined {
  const promised = SENSOR_TOLERANCES.find((each) => each === draft.tolerance);
  const tolerance = promised !== undefined &&
    tolerancesOf(draft).includes(promised) && { tolerance: promised };
  switch (draft.kind) {
    case '':
      return undefined;
    case 'platinum':
      return {
        kind: 'platinum',
        element: draft.element,
        wires: draft.wires,
        ...tolerance,
        ...(draft.wires === 2 && fieldIfFilled('lead_ohms', draft.lead_ohms)),
      };
    case 'thermocouple':
      return {
        kind: 'thermocouple',
        thermocouple: draft.thermocouple,
        ...tolerance,
        ...(draft.coldJunction === 'fixed'
          ? fieldIfFilled('cold_junction_celsius', draft.cold_junction_celsius)
          : draft.cold_junction_probe !== '' && { cold_junction_probe: draft.cold_junction_probe }),
      };
    case 'thermistor':
      return draft.curve === 'beta'
        ? {
            kind: 'thermistor',
            ...fieldIfFilled('r25_ohms', draft.r25_ohms),
            ...fieldIfFilled('beta_kelvin', draft.beta_kelvin),
          }
        : {
            kind: 'thermistor',
            ...fieldIfFilled('a', draft.a),
            ...fieldIfFilled('b', draft.b),
            ...fieldIfFilled('c', draft.c),
          };
  }
}

/** An uncertainty that only came from the sensor before follows the sensor; one that was entered stays. */
export function sensorBody(probe: DescribedProbe, draft: SensorDraft): ProbeBody {
  const { sensor: before, uncertainty_celsius: uncertainty, ...rest } = probeBody(probe);
  const sensor = sensorOf(draft);
  const isEntered = uncertainty !== undefined && uncertainty !== uncertaintyUntilCalibrated(before);
  return {
    ...rest,
    ...(sensor !== undefined && { sensor }),
    ...(isEntered && { uncertainty_celsius: uncertainty }),
  };
}
