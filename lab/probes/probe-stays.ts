// Where probes were, from the versions of their descriptions, and how one was described at an instant. Pure.

import type { Probe } from '../lab.ts';
import type { ProbePeriod, ProbeVersion } from '../database/settings-history.ts';

export interface ProbeStay {
  readonly probe: string;
  readonly station: string;
  /** Epoch milliseconds, `to` exclusive. */
  readonly from: number;
  readonly to: number;
}

/** As it was described at the instant; before its first version: as by that. Null where it was not described. */
export function probeVersionAt(versions: readonly ProbeVersion[], at: number): Probe | null {
  const last = versions.findLast(({ from }) => from <= at) ?? versions[0];
  return last?.probe ?? null;
}

/** Periods of one probe are together, oldest first; one that only changed its calibration has stayed. */
export function probeStays(periods: readonly ProbePeriod[]): readonly ProbeStay[] {
  const stays: ProbeStay[] = [];
  for (const { from, to, probe } of periods) {
    if (probe.station === null) continue;
    const last = stays.at(-1);
    const isSame = last?.probe === probe.id && last.station === probe.station && last.to === from;
    if (isSame) stays.splice(-1, 1, { ...last, to });
    else stays.push({ probe: probe.id, station: probe.station, from, to });
  }
  return stays;
}
