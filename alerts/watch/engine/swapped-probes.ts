// Two probes that have changed places: one leapt up to where the other was, and that one stands from the same minutes on
// where the first was. A fall alone says nothing of its probe, because cold wax makes one too.

import { highestWithin } from '../measures/recent.ts';
import { type Draft, editProbe } from './draft.ts';
import type { ProbePlan } from './lab-plan.ts';
import { type ProbeMemory, stationKey, type StationMemory } from './memory.ts';

/** Both are plugged in again within this. */
const AT_ONCE_MILLIS = 180_000;
const LEAST_FALL = 3;
/** A thermostat moves each of them meanwhile, kelvins. */
const ALIKE = 3;

interface Fall {
  readonly high: number;
  readonly celsius: number;
}

/** How far the heater of a probe fell of late; null where it did not, or has other probes beside it. */
function fallOf({ parts }: Draft, { station }: ProbePlan, at: number): Fall | null {
  const memory = parts[stationKey(station.station.id)];
  if (memory?.recent == null || !station.isHeater || station.probes.length > 1) return null;
  if (at - memory.at > AT_ONCE_MILLIS) return null;
  const { celsius } = memory;
  const high = highestWithin(memory.recent, memory.at, AT_ONCE_MILLIS);
  return high - celsius < LEAST_FALL ? null : { high, celsius };
}

const hasLeapt = ({ signal }: ProbeMemory, at: number): boolean =>
  signal.step !== null && signal.step.to > signal.step.from && at - signal.step.at <= AT_ONCE_MILLIS;

/** The one stands where the other was, and the other where the one was. */
const haveSwapped = ({ celsius, signal }: ProbeMemory, fall: Fall): boolean =>
  Math.abs(celsius - fall.high) <= ALIKE && Math.abs((signal.step?.from ?? celsius) - fall.celsius) <= ALIKE;

/** After a reading of a probe that leapt or fell: marks the fall of one that changed places as a leap too. */
export function markSwapped(
  draft: Draft,
  plan: ProbePlan,
  probe: ProbeMemory,
  station: StationMemory,
  at: number,
): void {
  const isLeaping = hasLeapt(probe, at);
  if (!isLeaping && station.disturbedAt !== station.at) return;
  const own = isLeaping ? null : fallOf(draft, plan, at);
  if (!isLeaping && own === null) return;
  for (const other of draft.plan.probes.values()) {
    const memory = other.key === plan.key ? undefined : draft.parts[other.key];
    if (memory === undefined) continue;
    if (own === null) {
      const fall = fallOf(draft, other, at);
      if (fall !== null && haveSwapped(probe, fall)) markLeap(editProbe(draft, other), fall, at);
    } else if (hasLeapt(memory, at) && haveSwapped(memory, own)) markLeap(probe, own, at);
  }
}

function markLeap(probe: ProbeMemory | undefined, { high, celsius }: Fall, at: number): void {
  if (probe === undefined) return;
  const { step } = probe.signal;
  if (step === null || at - step.at > AT_ONCE_MILLIS) probe.signal.step = { at, from: high, to: celsius };
}
