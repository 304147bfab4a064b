// One station in full: its state, what it did from an hour to a year, the figures it is judged by with their
// standing and source, its charge, its alarms, and the cautions of a heater.

import { useComputed } from '@preact/signals';
import { useLocation, useRoute } from 'preact-iso';
import type { ProbeStayView } from '../../../api/probe-detail.ts';
import { useState } from 'preact/hooks';
import type { AlarmView, ReadingsView, StationView } from '../../../api/schemas.ts';
import { StationAlarmCards } from '../common/alarm/alarm-cards.tsx';
import { type Answer, read, type Trouble } from '../../base/api.ts';
import { t } from '../../base/messages.ts';
import { byUrgency, isSuppressed } from '../../base/face.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { useLoadedBy } from '../../live/use-loaded.ts';
import { loaded, now, openAlarms, trouble } from '../../live/lab-state.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { Intents } from '../common/bench/intents.tsx';
import { BurnNote } from '../common/station/burn-note.tsx';
import { KindCaution } from '../common/station/kind-caution.tsx';
import { StationHead } from '../common/station/station-head.tsx';
import { SPAN_MILLIS, spanSince, viewOf } from '../common/chart/span.ts';
import { SpanPicker } from './span-picker.tsx';
import { StationFigures } from './station-figures.tsx';
import { TemperatureChart } from '../common/chart/temperature-chart.tsx';
import { SpanSummary } from './span-summary.tsx';
import './station.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';
import { iso } from '../../../../wax/iso.ts';
import { stationOf } from '../../live/lab-stations.ts';

const POINTS = 600;
/** A chart that follows the present is read again once a bucket, but not more often than this. */
const LEAST_REFRESH_MILLIS = 10_000;

interface History {
  readonly readings: readonly ReadingsView[];
  readonly alarms: readonly AlarmView[];
  /** Epoch milliseconds. */
  readonly from: number;
  readonly to: number;
  /** Why the readings of a probe are missing. */
  readonly failed: Trouble | null;
}

/** Those of today, and those that were there in the span and have been replaced since. */
const probesIn = (station: StationView, stays: readonly ProbeStayView[]): readonly string[] => [
  ...new Set([...station.probes, ...stays.map(({ probe }) => probe)]),
];

/** What it measured elsewhere is left out. */
const readProbe = async (
  probe: string,
  span: string,
  stays: readonly ProbeStayView[],
  signal: AbortSignal,
): Promise<Answer<ReadingsView>> => {
  const answer = await read<ReadingsView>(
    `/api/readings?probe=${encodeURIComponent(probe)}&${span}&points=${POINTS}`,
    signal,
  );
  const own = stays.filter((stay) => stay.probe === probe);
  if (!answer.ok || own.length === 0) return answer;
  const buckets = answer.value.buckets.filter(({ at }) =>
    own.some(({ from, to }) => (from === null || at >= from) && (to === null || at < to)),
  );
  return { ok: true, value: { ...answer.value, buckets } };
};

const readHistory = async (
  station: StationView,
  from: number,
  to: number,
  signal: AbortSignal,
): Promise<Answer<History>> => {
  const span = `from=${iso(from)}&to=${iso(to)}`;
  const path = `/api/stations/${encodeURIComponent(station.id)}/probes?${span}`;
  const stays = await read<readonly ProbeStayView[]>(path, signal);
  const [alarms, ...answers] = await Promise.all([
    read<readonly AlarmView[]>(`/api/alarms?state=all&limit=500&${span}`, signal),
    ...probesIn(station, stays.ok ? stays.value : []).map((probe) =>
      readProbe(probe, span, stays.ok ? stays.value : [], signal),
    ),
  ]);
  const failure = answers.find((answer) => !answer.ok);
  return {
    ok: true,
    value: {
      readings: answers.flatMap((answer) => (answer.ok ? [answer.value] : [])),
      alarms: (alarms.ok ? alarms.value : []).filter((alarm) => alarm.station === station.id),
      from,
      to,
      failed: failure && !failure.ok ? failure.trouble : null,
    },
  };
};

/** The span that the address names; one that follows the present is read again at an interval. */
const useHistory = (station: StationView, open: readonly AlarmView[]) => {
  const { query } = useLocation();
  // Settled when the page opens: a chart that changes its span under the eyes is hard to read.
  const [usual] = useState(() =>
    spanSince(Math.min(now.peek(), ...open.map(({ raisedAt }) => Date.parse(raisedAt))), now.peek()),
  );
  const view = viewOf(new URLSearchParams(query), usual);
  const { value: history } = useLoadedBy<History>(
    `${station.id} ${station.probes.join()} ${view.span} ${view.to}`,
    (signal) => {
      const to = view.to ?? now.peek();
      return readHistory(station, to - SPAN_MILLIS[view.span], to, signal);
    },
    {
      followsLab: false,
      everyMillis: view.to === null ? Math.max(LEAST_REFRESH_MILLIS, SPAN_MILLIS[view.span] / POINTS) : null,
    },
  );
  return { view, history };
};

const Loaded = ({ station }: { readonly station: StationView }) => {
  const open = openAlarms.value.filter((alarm) => alarm.station === station.id).sort(byUrgency);
  const { view, history } = useHistory(station, open);
  useTitle(() => station.name);
  const { path, route } = useLocation();
  return (
    <>
      <StationHead station={station} />
      {open.every((alarm) => alarm.caution === '' || isSuppressed(alarm)) && (
        <KindCaution kind={station.kind}>
          {station.ceiling !== null && <BurnNote celsius={station.ceiling.value} kind={station.kind} />}
        </KindCaution>
      )}
      <StationAlarmCards alarms={open} />
      <WaitingActs />
      <section aria-label={t('chart.title')}>
        <SpanPicker view={view} onChange={(next) => route(`${path}${next}`, true)} />
        {history?.failed && <TroubleNote trouble={history.failed} />}
        {station.probes.length === 0 && <p class="note">{t('station.no-probe')}</p>}
        <TemperatureChart shown={history && { station, ...history }} />
        {history && <SpanSummary {...history} />}
      </section>
      <Intents station={station} />
      <StationFigures station={station} />
    </>
  );
};

export default function Station() {
  const { params } = useRoute();
  const shown = useComputed(() => stationOf(params.station));
  if (shown.value) return <Loaded station={shown.value} />;
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  if (!loaded.value) return <p role="status">{t('screen.loading')}</p>;
  return (
    <div class="note">
      <h1>{t('station.unknown')}</h1>
      <ActLink href="/" text="nav.lab" />
    </div>
  );
}
