// A case as a lab sees it that was set up only hours before its first fault: what was sent earlier is left out, so the
// watch has that much less to learn from.

import type { LabelledCase } from '../../simulators/cases/case.ts';
import { MILLIS_PER_HOUR } from '../../wax/units.ts';

/** The case from so many hours before its first fault on; as it is where it has none, or begins later anyway. */
export function withShortHistory(labelled: LabelledCase, hours: number): LabelledCase {
  const firstFault = Math.min(...labelled.truth.map(({ begins }) => Date.parse(begins)));
  const starts = firstFault - hours * MILLIS_PER_HOUR;
  if (!Number.isFinite(starts) || starts <= labelled.starts) return labelled;
  const { at, celsius, probe, receivedAt } = labelled.readings;
  const isKept = (_: number, index: number): boolean => (receivedAt[index] ?? 0) >= starts;
  return {
    ...labelled,
    starts,
    readings: {
      at: at.filter(isKept),
      receivedAt: receivedAt.filter(isKept),
      probe: probe.filter(isKept),
      celsius: celsius.filter(isKept),
    },
  };
}
