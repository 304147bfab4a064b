// Every probe that was heard: those that wait for a station first.

import { useSignalEffect } from '@preact/signals';
import type { ProbeView } from '../../api/schemas.ts';
import { FirstProbe } from '../frame/first-probe.tsx';
import { formatAge, formatTemperature } from '../frame/format.ts';
import { t, word } from '../frame/messages.ts';
import { TroubleNote } from '../frame/trouble-note.tsx';
import { loaded, now, probes, reader, stations, trouble } from '../live/lab-state.ts';
import './overview.css';

const stationName = (id: string | null): string =>
  stations.value.find((station) => station.peek().id === id)?.peek().name ?? id ?? '–';

const Row = ({ probe }: { readonly probe: ProbeView }) => (
  <tr>
    <th scope="row">{probe.id}</th>
    <td>
      {probe.gateway}
      {probe.gatewayOnline === false && ` · ${t('probes.gateway-offline')}`}
    </td>
    <td>
      {probe.station === null ? (
        t('probes.unclaimed')
      ) : (
        <a href={`/station/${encodeURIComponent(probe.station)}`}>{stationName(probe.station)}</a>
      )}
    </td>
    <td>{probe.celsius === null ? '–' : formatTemperature(probe.celsius, reader.value)}</td>
    <td>
      {probe.at === null
        ? t('station.never')
        : formatAge((now.value - Date.parse(probe.at)) / 1000, reader.value)}
    </td>
    <td>{probe.quality === null ? '–' : word('quality', probe.quality)}</td>
  </tr>
);

export default function Probes() {
  useSignalEffect(() => {
    document.title = t('nav.probes');
  });
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  const sorted = [...probes.value].sort(
    (one, other) => Number(one.claimed) - Number(other.claimed) || one.id.localeCompare(other.id),
  );
  return (
    <>
      <h1>{t('nav.probes')}</h1>
      {loaded.value && sorted.length === 0 && <FirstProbe />}
      {sorted.length > 0 && (
        <div class="table-wrap">
          <table>
            <thead>
              <tr>
                <th scope="col">{t('probes.probe')}</th>
                <th scope="col">{t('probes.gateway')}</th>
                <th scope="col">{t('probes.station')}</th>
                <th scope="col">{t('probes.last')}</th>
                <th scope="col">{t('wall.age')}</th>
                <th scope="col">{t('probes.quality')}</th>
              </tr>
            </thead>
            <tbody>
              {sorted.map((probe) => (
                <Row key={probe.id} probe={probe} />
              ))}
            </tbody>
          </table>
        </div>
      )}
      <p class="row">
        <a class="act" href="/quarantine">
          {t('quarantine.title')}
        </a>
      </p>
    </>
  );
}
