// Every probe that has reported, those without a station first.

import type { ProbeView } from '../../../api/schemas.ts';
import { DataTable } from '../../base/data-table.tsx';
import { FirstProbe } from '../common/station/first-probe.tsx';
import { formatTemperature } from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { mayDo } from '../../live/session.ts';
import { TroubleNote } from '../../live/trouble-note.tsx';
import { loaded, probes, reader, trouble } from '../../live/lab-state.ts';
import '../common/station/overview.css';
import { useTitle } from '../../base/use-title.ts';
import { ActLink } from '../../base/act-link.tsx';
import { stationName } from '../../live/lab-stations.ts';
import { ageOf } from '../../live/probe-text.ts';

/** Those that wait for a station first, those that are out of use last. */
const rank = ({ claimed, retired }: ProbeView): number => (retired ? 2 : claimed ? 1 : 0);

export default function Probes() {
  useTitle(() => t('nav.probes'));
  if (trouble.value && !loaded.value) return <TroubleNote trouble={trouble.value} />;
  const sorted = [...probes.value].sort(
    (left, right) => rank(left) - rank(right) || left.id.localeCompare(right.id),
  );
  return (
    <>
      <h1>{t('nav.probes')}</h1>
      {loaded.value && sorted.length === 0 && <FirstProbe />}
      {sorted.length > 0 && (
        <DataTable
          rows={sorted}
          keyOf={({ id }) => id}
          columns={{
            [t('probes.probe')]: ({ id }) => <a href={`/probe/${encodeURIComponent(id)}`}>{id}</a>,
            [t('probes.gateway')]: ({ gateway, gatewayOnline }) =>
              gatewayOnline === false ? `${gateway} · ${t('probes.gateway-offline')}` : gateway,
            [t('probes.station')]: ({ retired, station }) =>
              retired ? (
                t('probes.retired')
              ) : station === null ? (
                <>
                  {t('probes.unclaimed')}{' '}
                  <a href={mayDo('set-up-lab') ? '/set-up/probes' : '/sign-in?to=/set-up/probes'}>
                    {t('probes.give')}
                  </a>
                </>
              ) : (
                <a href={`/station/${encodeURIComponent(station)}`}>{stationName(station)}</a>
              ),
            [t('probes.last')]: {
              figures: ({ celsius }) => (celsius === null ? '–' : formatTemperature(celsius, reader.value)),
            },
            [t('wall.age')]: { figures: ({ at }) => ageOf(at) },
            [t('probes.quality')]: ({ quality, status }) => (
              <>
                {quality === null ? '–' : word('quality', quality)}
                {status?.isBatteryLow === true && ` · ${t('probe-page.battery-low')}`}
              </>
            ),
          }}
        />
      )}
      <p class="row below">
        <ActLink href="/quarantine" text="quarantine.title" />
      </p>
    </>
  );
}
