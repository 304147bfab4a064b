// What the probe measured over a span, with the window of its station; a span that follows the present goes on by itself.

import type { ReadingsView, StationView } from '../../../api/schemas.ts';
import { type Answer, read } from '../../base/api.ts';
import { now } from '../../live/lab-state.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoadedBy } from '../../live/use-loaded.ts';
import { SPAN_MILLIS, type View } from '../common/chart/span.ts';
import { TemperatureChart } from '../common/chart/temperature-chart.tsx';
import { SpanSummary } from '../station/span-summary.tsx';
import { iso } from '../../../../wax/iso.ts';

const POINTS = 600;
/** A chart that follows the present is read again once a bucket, but not more often than this. */
const LEAST_REFRESH_MILLIS = 5000;
const ANYWHERE = { windowLow: null, windowHigh: null, ceiling: null };

interface ProbeTraceProps {
  readonly probe: string;
  readonly view: View;
  readonly station: StationView | undefined;
}

interface Trace {
  readonly readings: ReadingsView;
  /** Epoch milliseconds. */
  readonly from: number;
  readonly to: number;
}

const readTrace = async (
  probe: string,
  from: number,
  to: number,
  signal: AbortSignal,
): Promise<Answer<Trace>> => {
  const span = `from=${iso(from)}&to=${iso(to)}`;
  const answer = await read<ReadingsView>(
    `/api/readings?probe=${encodeURIComponent(probe)}&${span}&points=${POINTS}`,
    signal,
  );
  return answer.ok ? { ok: true, value: { readings: answer.value, from, to } } : answer;
};

export const ProbeTrace = ({ probe, view, station }: ProbeTraceProps) => {
  const { value: trace, trouble } = useLoadedBy<Trace>(
    `${probe} ${view.span} ${view.to}`,
    (signal) => {
      const to = view.to ?? now.peek();
      return readTrace(probe, to - SPAN_MILLIS[view.span], to, signal);
    },
    {
      followsLab: false,
      everyMillis: view.to === null ? Math.max(LEAST_REFRESH_MILLIS, SPAN_MILLIS[view.span] / POINTS) : null,
    },
  );
  const shown = trace && {
    station: { ...ANYWHERE, ...station, name: probe },
    readings: [trace.readings],
    alarms: [],
    from: trace.from,
    to: trace.to,
  };
  return (
    <>
      {trouble && <TroubleNote trouble={trouble} />}
      <TemperatureChart shown={shown} />
      {shown && <SpanSummary {...shown} />}
    </>
  );
};
