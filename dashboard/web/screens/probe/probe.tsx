// One probe in full: its trace, how it behaves, its sensor, its calibrations over time, where it was, what a reading of
// it was when it came in, and what is done with it when it is broken.

import { useComputed } from '@preact/signals';
import { useLocation, useRoute } from 'preact-iso';
import { useState } from 'preact/hooks';
import type { ProbeView } from '../../../api/schemas.ts';
import { t, word } from '../../base/messages.ts';
import { WaitingActs } from '../../forms/waiting-acts.tsx';
import { DoneNote } from '../../forms/undo.tsx';
import { loaded, openAlarms, probes, trouble } from '../../live/lab-state.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { AlarmCards } from '../common/alarm/alarm-cards.tsx';
import { deviceStatusText } from '../common/station/device-status-text.ts';
import { BurnNote } from '../common/station/burn-note.tsx';
import { KindCaution } from '../common/station/kind-caution.tsx';
import { viewOf } from '../common/chart/span.ts';
import { SpanPicker } from '../station/span-picker.tsx';
import { Behaviour } from './behaviour.tsx';
import { ProbeActs } from './probe-acts.tsx';
import { ProbeHistory } from './probe-history.tsx';
import { ProbeSettings } from './probe-settings.tsx';
import { ProbeTrace } from './probe-trace.tsx';
import { ReadingOrigin } from './reading-origin.tsx';
import '../common/station/overview.css';
import '../station/station.css';
import '../../forms/set-up.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';
import { stationOf } from '../../live/lab-stations.ts';
import { ageOf, probeValue } from '../../live/probe-text.ts';

/** Battery and radio signal, where the device reports them. */
const DeviceStatus = ({ status }: { readonly status: NonNullable<ProbeView['status']> }) => {
  const { battery_volts, battery_low_volts, isBatteryLow, at } = status;
  return (
    <>
      <p>
        {deviceStatusText(status)} <span class="dim">{ageOf(at)}</span>
      </p>
      {battery_volts !== null && battery_low_volts === null && (
        <p class="dim">{t('probe-page.battery-not-judged')}</p>
      )}
      {isBatteryLow && (
        <p class="caution">
          <strong>{t('probe-page.battery-low')}</strong> {t('probe-page.battery-do')}
        </p>
      )}
    </>
  );
};

const Head = ({ probe }: { readonly probe: ProbeView }) => {
  const station = stationOf(probe.station);
  return (
    <header>
      <h1>{probe.id}</h1>
      <p class="row">
        <strong>{probeValue(probe, 2)}</strong>
        <span class="dim">
          {ageOf(probe.at)}
          {probe.quality !== null && ` · ${word('quality', probe.quality)}`}
        </span>
      </p>
      <p>
        {t('probes.gateway')}: {probe.gateway}
        {probe.gatewayOnline === false && ` · ${t('probes.gateway-offline')}`}
        {' · '}
        {station === undefined ? (
          t(probe.retired ? 'probes.retired' : 'probes.unclaimed')
        ) : (
          <a href={`/station/${encodeURIComponent(station.id)}`}>{station.name}</a>
        )}
      </p>
      {probe.status !== null && <DeviceStatus status={probe.status} />}
      {station !== undefined && (
        <KindCaution kind={station.kind}>
          {station.ceiling !== null && <BurnNote celsius={station.ceiling.value} kind={station.kind} />}
        </KindCaution>
      )}
    </header>
  );
};

const Loaded = ({ probe }: { readonly probe: ProbeView }) => {
  const { path, query, route } = useLocation();
  const view = viewOf(new URLSearchParams(query));
  const [origin, setOrigin] = useState<string | null>(null);
  useTitle(() => probe.id);
  const alarms = openAlarms.value.filter(
    (alarm) => alarm.subjectKind === 'probe' && alarm.subject === probe.id,
  );
  return (
    <>
      <Head probe={probe} />
      <DoneNote />
      {alarms.length > 0 && <AlarmCards listClass="station-alarms" alarms={alarms} heading="h2" />}
      <WaitingActs />
      <section aria-label={t('chart.title')}>
        <SpanPicker view={view} onChange={(next) => route(`${path}${next}`, true)} />
        <ProbeTrace probe={probe.id} view={view} station={stationOf(probe.station)} />
      </section>
      <div class="set-up">
        <Behaviour probe={probe.id} onTrace={setOrigin} />
        <ReadingOrigin
          probe={probe.id}
          at={origin ?? (view.to === null ? null : new Date(view.to).toISOString())}
        />
        <ProbeHistory probe={probe.id} />
        {mayDo('set-up-lab') && (
          <>
            <ProbeSettings probe={probe} />
            <ProbeActs probe={probe} />
          </>
        )}
      </div>
    </>
  );
};

export default function Probe() {
  const { params } = useRoute();
  const shown = useComputed(() => probes.value.find(({ id }) => id === params.probe));
  if (shown.value) return <Loaded probe={shown.value} />;
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  if (!loaded.value) return <p role="status">{t('screen.loading')}</p>;
  return (
    <div class="note">
      <h1>{t('probe-page.unknown')}</h1>
      <DoneNote />
      <ActLink href="/probes" text="nav.probes" />
    </div>
  );
}
