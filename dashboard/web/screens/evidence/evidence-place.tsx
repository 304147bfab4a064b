// One station in the record of a span: readings, the limits that held, what went beyond them, alarms, probes.

import type {
  EvidenceExcursion,
  EvidenceFigures,
  EvidencePlace,
  EvidenceProbe,
  LimitPeriod,
} from '../../../api/evidence.ts';
import { beyondNone } from '../../../reports/evidence/beyond-none.ts';
import { DataTable } from '../../base/data-table.tsx';
import {
  formatAge,
  formatDay,
  formatDifference,
  formatInstant,
  formatNumber,
  formatTemperature,
  type Reader,
} from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { now } from '../../live/lab-state.ts';
import { formatMonth, localDay } from '../../base/local-days.ts';
import { Excursions } from './evidence-excursions.tsx';

const SECONDS_PER_MINUTE = 60;

interface PlaceProps {
  readonly place: EvidencePlace;
  readonly zoned: Reader;
}

const temperature = (value: number | null, zoned: Reader): string =>
  value === null ? '–' : formatTemperature(value, zoned);
const duration = (minutes: number, zoned: Reader): string =>
  minutes === 0 ? '–' : formatAge(minutes * SECONDS_PER_MINUTE, zoned);
const instant = (at: string, zoned: Reader): string => formatInstant(at, now.peek(), zoned);

const Readings = ({ place, zoned, step }: PlaceProps & { readonly step: 'day' | 'month' }) => {
  const row = (key: string, name: string, figures: EvidenceFigures) => ({
    key,
    cells: [
      name,
      formatNumber(figures.readings, 0, zoned),
      formatNumber(figures.doubtfulReadings, 0, zoned),
      temperature(figures.minCelsius, zoned),
      temperature(figures.maxCelsius, zoned),
      temperature(figures.meanCelsius, zoned),
      temperature(figures.meanKineticCelsius, zoned),
      duration(figures.minutesBeyond, zoned),
      duration(figures.gapMinutes, zoned),
    ],
  });
  return (
    <>
      <h4>{t('evidence.readings')}</h4>
      {place.whole.readings === 0 && <p>{t('evidence.no-readings')}</p>}
      <DataTable
        columns={[
          t(step === 'day' ? 'evidence.day' : 'evidence.month'),
          t('evidence.count'),
          t('evidence.doubtful'),
          t('evidence.least'),
          t('evidence.most'),
          t('evidence.mean'),
          t('evidence.mean-kinetic'),
          t('evidence.beyond-minutes'),
          t('evidence.gaps'),
        ]}
        rows={[
          ...place.steps.map((figures) =>
            row(
              figures.from,
              step === 'day'
                ? formatDay(figures.from, zoned)
                : formatMonth(localDay(Date.parse(figures.from), zoned.timeZone).slice(0, 7), zoned),
              figures,
            ),
          ),
          row('whole', t('evidence.whole'), place.whole),
        ]}
      />
      <p class="dim">{t('evidence.means-of', { width_minutes: `${place.meanOfMinutes} min` })}</p>
    </>
  );
};

const limitText = (limit: LimitPeriod['ceiling'], zoned: Reader): string =>
  limit === null ? '–' : `${formatTemperature(limit.celsius, zoned)} (${word('standing', limit.standing)})`;

const Limits = ({ place, zoned }: PlaceProps) => (
  <>
    <h4>{t('evidence.limits')}</h4>
    <DataTable
      columns={[
        t('evidence.from'),
        t('evidence.to'),
        t('evidence.wax'),
        t('evidence.window'),
        t('evidence.ceiling'),
        t('evidence.storage-max'),
        t('evidence.night-swing'),
      ]}
      rows={place.limits.map((period) => ({
        key: period.from,
        cells: [
          period.isRecorded
            ? instant(period.from, zoned)
            : `${instant(period.from, zoned)} (${t('evidence.not-recorded')})`,
          instant(period.to, zoned),
          period.wax === null ? '–' : word('wax', period.wax),
          period.windowLow === null && period.windowHigh === null
            ? '–'
            : `${limitText(period.windowLow, zoned)} – ${limitText(period.windowHigh, zoned)}`,
          limitText(period.ceiling, zoned),
          limitText(period.storageMax, zoned),
          period.largestNightSwingCelsius === null
            ? '–'
            : formatDifference(period.largestNightSwingCelsius, zoned),
        ],
      }))}
    />
  </>
);

const Beyond = ({ place, zoned }: PlaceProps) => {
  const none = beyondNone(place);
  return (
    <>
      <h4>{t('evidence.beyond')}</h4>
      {none === null ? <BeyondTable place={place} zoned={zoned} /> : <p>{t(none)}</p>}
    </>
  );
};

const BeyondTable = ({ place, zoned }: PlaceProps) => (
  <>
    <DataTable
      columns={[
        t('evidence.from'),
        t('evidence.to'),
        t('evidence.beyond-minutes'),
        t('evidence.extreme'),
        t('evidence.limit'),
      ]}
      rows={place.beyond.map((run) => ({
        key: `${run.from} ${run.side}`,
        cells: [
          instant(run.from, zoned),
          instant(run.to, zoned),
          duration(run.minutes, zoned),
          formatTemperature(run.extremeCelsius, zoned),
          `${t(run.side === 'above' ? 'evidence.side.above' : 'evidence.side.below')} ${formatTemperature(run.limitCelsius, zoned)}`,
        ],
      }))}
    />
    {place.beyondLeftOut > 0 && <p>{t('evidence.beyond-more', { count: place.beyondLeftOut })}</p>}
  </>
);

const certificateText = ({ certificate, ...probe }: EvidenceProbe, zoned: Reader): string => {
  const due = probe.calibrationDue === null ? '' : `; ${t('evidence.due', { day: probe.calibrationDue })}`;
  if (certificate === null) {
    const correction = formatDifference(probe.correctionCelsius ?? 0, zoned);
    return t('evidence.certificate-none', { correction_celsius_difference: correction }) + due;
  }
  const values = {
    day: certificate.day,
    reference: certificate.reference ?? t('evidence.reference-none'),
    uncertainty_celsius_difference: formatDifference(certificate.referenceUncertaintyCelsius ?? 0, zoned),
  };
  return t('evidence.certificate-of', values) + due;
};

const Probes = ({ place, zoned }: PlaceProps) => (
  <>
    <h4>{t('evidence.probes')}</h4>
    {place.probes.length === 0 ? (
      <p>{t('evidence.probes-none')}</p>
    ) : (
      <DataTable
        columns={[
          t('evidence.probe'),
          t('evidence.from'),
          t('evidence.to'),
          t('evidence.uncertainty'),
          t('evidence.certificate'),
          t('evidence.points'),
        ]}
        rows={place.probes.map((probe) => ({
          key: `${probe.probe} ${probe.from}`,
          cells: [
            probe.probe,
            instant(probe.from, zoned),
            instant(probe.to, zoned),
            probe.uncertaintyCelsius === null ? '–' : formatDifference(probe.uncertaintyCelsius, zoned),
            certificateText(probe, zoned),
            (probe.certificate?.points ?? [])
              .map((point) =>
                t('evidence.point', {
                  reference_celsius: formatTemperature(point.referenceCelsius, zoned),
                  found_celsius_difference: formatDifference(point.asFoundErrorCelsius, zoned),
                  left_celsius_difference: formatDifference(point.asLeftErrorCelsius, zoned),
                }),
              )
              .join('; ') || '–',
          ],
        }))}
      />
    )}
  </>
);

export const EvidencePlaceCard = (
  props: PlaceProps & { readonly step: 'day' | 'month'; readonly onSigned: () => void },
) => {
  const { place, zoned, step, onSigned } = props;
  return (
    <section>
      <h3>{`${place.name} (${word('kind', place.kind)})`}</h3>
      <Readings place={place} zoned={zoned} step={step} />
      <Limits place={place} zoned={zoned} />
      <Beyond place={place} zoned={zoned} />
      <h4>{t('evidence.excursions')}</h4>
      <Excursions excursions={place.excursions} zoned={zoned} onSigned={onSigned} />
      <Probes place={place} zoned={zoned} />
    </section>
  );
};

/** What belongs to no station; nothing where there is none. */
export const EvidenceElsewhere = (props: {
  readonly excursions: readonly EvidenceExcursion[];
  readonly zoned: Reader;
  readonly onSigned: () => void;
}) =>
  props.excursions.length === 0 ? null : (
    <section>
      <h3>{t('evidence.elsewhere')}</h3>
      <Excursions {...props} />
    </section>
  );
