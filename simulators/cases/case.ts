/** A case of labelled traces: what a lab's probes sent, and what was really wrong. Layout on disk: docs/faultbench.md. */
export interface CaseProbe {
  readonly id: string;
  readonly where: string;
  readonly gateway: string;
  readonly resolution_kelvin: number;
  readonly seconds: number;
}

export interface CaseHours {
  readonly time_zone: string;
  readonly days: readonly string[];
  readonly from: string;
  readonly to: string;
  readonly pauses?: readonly (readonly [string, string])[];
}

export interface CaseStation {
  readonly id: string;
  readonly kind: string;
  readonly probes: readonly CaseProbe[];
  readonly wax: string;
  readonly melting_range_celsius?: readonly [number, number];
  readonly set_celsius: number | null;
  readonly ceiling_celsius?: number | null;
  readonly hours: CaseHours | string;
  readonly ready_by: string | null;
  readonly control: string;
  readonly charge_since?: string;
  readonly charge_limit_equivalent_hours_at_70_celsius?: number;
  readonly window_celsius?: readonly [number, number];
  readonly soak_minutes?: number;
  readonly uneven_limit_kelvin?: number;
  readonly low_celsius?: number;
  readonly high_celsius?: number;
  readonly swing_limit_kelvin_in_24_h?: number;
}

export interface TrueFault {
  readonly station: string;
  readonly fault: string;
  readonly begins: string;
  readonly harm: string | null;
  readonly ends: string;
}

/** Readings in order of arrival, one column an array; instants in epoch milliseconds. */
export interface CaseReadings {
  readonly at: Float64Array;
  readonly receivedAt: Float64Array;
  readonly probe: Uint16Array;
  readonly celsius: Float64Array;
}

export interface LabelledCase {
  readonly name: string;
  readonly timeZone: string;
  readonly starts: number;
  readonly ends: number;
  readonly stations: readonly CaseStation[];
  /** `readings.probe` indexes this. */
  readonly probes: readonly string[];
  readonly readings: CaseReadings;
  readonly truth: readonly TrueFault[];
}
