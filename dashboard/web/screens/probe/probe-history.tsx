// The calibrations of the probe over time, each as found and as left, and the stations where it was.

import type { CertificateView, ProbeHistoryView, ProbeStayView } from '../../../api/probe-detail.ts';
import { DataTable } from '../../base/data-table.tsx';
import { formatDifference, formatTemperature } from '../../base/format.ts';
import { t } from '../../base/messages.ts';
import { Refusal } from '../../forms/saving.tsx';
import { reader } from '../../live/lab-state.ts';
import { useLoaded } from '../../live/use-loaded.ts';
import { stationName } from '../../live/lab-stations.ts';
import { instantText } from '../../live/instant-text.ts';

const kelvins = (value: number): string => formatDifference(value, reader.value, 2);

/** The errors point by point; of a single correction, which holds at all temperatures, what it was and became. */
const errorList = (certificate: CertificateView) => {
  const { points, correctionBefore_celsius: before, correctionAfter_celsius: after } = certificate;
  if (points.length === 0)
    return after === null || before === null
      ? '–'
      : t('probe-page.correction-change', { before: kelvins(before), after: kelvins(after) });
  return (
    <ul>
      {points.map((point) => (
        <li key={point.reading_celsius}>
          {t('probe-page.point', {
            reference: formatTemperature(point.reference_celsius, reader.value, 2),
            found: kelvins(point.foundError_celsius),
            left: kelvins(point.leftError_celsius),
          })}
        </li>
      ))}
    </ul>
  );
};

const referenceText = ({ reference, referenceUncertainty_celsius: uncertainty }: CertificateView): string =>
  [reference ?? '–', ...(uncertainty === null ? [] : [`± ${kelvins(uncertainty)}`])].join(' ');

const Certificates = ({ certificates }: Pick<ProbeHistoryView, 'certificates'>) => (
  <DataTable
    none={t('probe-page.certificates-none')}
    rows={certificates}
    keyOf={(certificate) => certificate.at}
    columns={{
      [t('probe-page.entered')]: (certificate) => instantText(certificate.at),
      [t('calibration.day')]: (certificate) => certificate.day ?? '–',
      [t('calibration.reference')]: referenceText,
      [t('probe-page.found-left')]: errorList,
      [t('calibration.uncertainty')]: {
        figures: (certificate) => `± ${kelvins(certificate.uncertainty_celsius)}`,
      },
      [t('calibration.due')]: (certificate) => certificate.due ?? '–',
    }}
  />
);

const Stays = ({ stays }: { readonly stays: readonly ProbeStayView[] }) =>
  stays.length === 0 ? (
    <p>{t('probe-page.stays-none')}</p>
  ) : (
    <ul>
      {stays.map(({ station, from, to }) => (
        <li key={`${station} ${from}`}>
          <a href={`/station/${encodeURIComponent(station)}`}>{stationName(station)}</a>{' '}
          {t('probe-page.stay', {
            from: from === null ? t('probe-page.since-first') : instantText(from),
            to: to === null ? t('probe-page.until-now') : instantText(to),
          })}
        </li>
      ))}
    </ul>
  );

export const ProbeHistory = ({ probe }: { readonly probe: string }) => {
  const { value, trouble, reload } = useLoaded<ProbeHistoryView>(
    `/api/probes/${encodeURIComponent(probe)}/history`,
  );
  return (
    <>
      <Refusal trouble={trouble} retry={reload} />
      {value && (
        <>
          <section>
            <h2>{t('probe-page.certificates')}</h2>
            <Certificates certificates={value.certificates} />
          </section>
          <section>
            <h2>{t('probe-page.stays')}</h2>
            <Stays stays={value.stays} />
          </section>
        </>
      )}
    </>
  );
};
