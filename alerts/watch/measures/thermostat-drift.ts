// A thermostat's present cycle against what it used to be: period and swing. The cycles are wax/thermostat-cycle.ts's.

import { type ThermostatState, thermostatSummary } from '../../../wax/thermostat-cycle.ts';

export interface ThermostatDrift {
  readonly periodSeconds: number;
  readonly usualPeriodSeconds: number;
  readonly swing: number;
  readonly usualSwing: number;
  /** Cycles that the usual figures rest on. */
  readonly learned: number;
}

/** Each completed cycle moves the usual figures by this share, so that drift of days shows against weeks. */
const GAIN = 0.01;
const LEARNED_AT_ONCE = 20;

/** Called when a cycle was completed; null with fewer cycles than a median needs. */
export function thermostatDriftStep(
  drift: ThermostatDrift | null,
  state: ThermostatState,
): ThermostatDrift | null {
  const summary = thermostatSummary(state);
  if (summary === null) return drift;
  const { periodSeconds } = summary;
  const swing = summary.high - summary.low;
  const learned = (drift?.learned ?? 0) + 1;
  // At first the plain mean, later a slow memory.
  const gain = learned <= LEARNED_AT_ONCE ? 1 / learned : GAIN;
  const towards = (usual: number | undefined, value: number) =>
    usual === undefined ? value : usual + gain * (value - usual);
  return {
    periodSeconds,
    swing,
    learned,
    usualPeriodSeconds: towards(drift?.usualPeriodSeconds, periodSeconds),
    usualSwing: towards(drift?.usualSwing, swing),
  };
}
