// Which probes were at a station over a span.

import { type ProbeStay, probeStays } from '../../lab/probes/probe-stays.ts';
import type { EpochMillis } from '../../wax/units.ts';
import type { RunningLab } from './running-lab.ts';

/** With the part of the span for which each was there. */
export const staysIn = (
  { repository }: Pick<RunningLab, 'repository'>,
  station: string,
  span: { readonly from: EpochMillis; readonly to: EpochMillis },
): readonly ProbeStay[] =>
  probeStays(repository.history.probePeriods(span.from, span.to, station)).filter(
    (stay) => stay.station === station,
  );
