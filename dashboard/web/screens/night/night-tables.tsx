// Storage places and patterns in figures, each with its verdict and why.

import type { PatternLine, PlaceLine } from '../../../api/night.ts';
import { DataTable } from '../../base/data-table.tsx';
import {
  formatDay,
  formatDegrees,
  formatDifference,
  formatNumber,
  formatTemperature,
  formatTime,
  type Reader,
} from '../../base/format.ts';
import { t, word } from '../../base/messages.ts';
import { VerdictWord } from './night-glance.tsx';

const degrees = (celsius: number | null, zoned: Reader): string =>
  celsius === null ? '–' : formatTemperature(celsius, zoned);

const minutesText = (minutes: number): string => {
  const whole = Math.round(minutes);
  return whole < 120 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
};

const reasons = (line: PlaceLine | PatternLine): string => line.reasons.map(({ text }) => text).join(' ');

/** What half a swing is, where one is shown. */
export const HalfSwing = ({ swings }: { readonly swings: readonly number[] }) =>
  swings.every(Number.isInteger) ? null : <p class="dim">{t('night.swings-half')}</p>;

export const NightPlaces = (props: { readonly places: readonly PlaceLine[]; readonly zoned: Reader }) => {
  const { places, zoned } = props;
  return (
    <>
      <DataTable
        none={t('night.no-places')}
        rows={places}
        keyOf={(place) => place.station}
        columns={{
          [t('night.place')]: (place) => (
            <a href={`/station/${encodeURIComponent(place.station)}`}>{place.name}</a>
          ),
          [t('night.verdict')]: (place) => <VerdictWord verdict={place.verdict} of="place-verdict" />,
          [t('night.least-most')]: {
            figures: (place) =>
              place.figures.minCelsius === null
                ? '–'
                : `${formatDegrees(place.figures.minCelsius, zoned)} – ${degrees(place.figures.maxCelsius, zoned)}`,
          },
          [t('night.mean-kinetic')]: { figures: (place) => degrees(place.figures.meanKineticCelsius, zoned) },
          [t('night.swings')]: (place) =>
            t('night.swings-of', {
              count: formatNumber(place.figures.swings, 1, zoned),
              largest: formatDifference(place.figures.largestSwingCelsius, zoned),
            }),
          [t('night.too-warm')]: { figures: (place) => minutesText(place.figures.minutesOutOfBand) },
          [t('night.gaps')]: { figures: (place) => minutesText(place.figures.gapMinutes) },
          [t('night.reason')]: reasons,
        }}
      />
      <HalfSwing swings={places.map(({ figures }) => figures.swings)} />
    </>
  );
};

const errorText = (pattern: PatternLine, zoned: Reader): string => {
  const { predictedMicrometres, lowMicrometres, highMicrometres, toleranceMicrometres } = pattern;
  if (predictedMicrometres === null || lowMicrometres === null || highMicrometres === null) return '–';
  const micrometres = (value: number) => formatNumber(value, 0, zoned);
  return t(pattern.isCalibrated ? 'night.error' : 'night.error-generic', {
    predicted: micrometres(predictedMicrometres),
    low: micrometres(lowMicrometres),
    high: micrometres(highMicrometres),
    tolerance: micrometres(toleranceMicrometres),
  });
};

/** On paper what is to be done names what is overdue: the words would take the sheet to a second page. */
const Due = ({ pattern, zoned }: { readonly pattern: PatternLine; readonly zoned: Reader }) => {
  const { investBy, isOverdue } = pattern;
  if (investBy === null) return <>–</>;
  const at = `${formatDay(investBy, zoned)}, ${formatTime(investBy, zoned)}`;
  return (
    <>
      {at}
      {isOverdue && <span class="no-print"> {t('night.overdue')}</span>}
    </>
  );
};

export const NightPatterns = (props: {
  readonly patterns: readonly PatternLine[];
  readonly zoned: Reader;
}) => {
  const { patterns, zoned } = props;
  if (patterns.length === 0) return <p>{t('night.no-patterns')}</p>;
  const standings = [...new Set(patterns.flatMap(({ standing }) => (standing === null ? [] : [standing])))];
  return (
    <>
      <DataTable
        rows={patterns}
        keyOf={(pattern) => pattern.id}
        columns={{
          [t('night.pattern')]: (pattern) => (
            <a href={`/p/${pattern.id}`}>{`${pattern.id} ${pattern.caseReference}`}</a>
          ),
          [t('night.verdict')]: (pattern) => (
            <span>
              <VerdictWord verdict={pattern.verdict} />
              {pattern.fate !== null && ` (${word('fate', pattern.fate.kind)})`}
            </span>
          ),
          [t('night.lies')]: (pattern) => pattern.stationName,
          [t('night.least-most')]: {
            figures: (pattern) =>
              pattern.figures.minCelsius === null
                ? '–'
                : `${formatDegrees(pattern.figures.minCelsius, zoned)} – ${degrees(pattern.figures.maxCelsius, zoned)}`,
          },
          [t('night.mean-kinetic')]: {
            figures: (pattern) => degrees(pattern.figures.meanKineticCelsius, zoned),
          },
          [t('night.predicted')]: (pattern) => errorText(pattern, zoned),
          [t('night.invest-by')]: (pattern) => <Due pattern={pattern} zoned={zoned} />,
          [t('night.reason')]: reasons,
        }}
      />
      <p class="dim below">
        {t('night.model', {
          standing: standings.map((standing) => word('standing', standing)).join(', ') || '–',
        })}
      </p>
    </>
  );
};
