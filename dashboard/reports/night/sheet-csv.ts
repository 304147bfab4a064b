// The night sheet as a table for spreadsheets (RFC 4180): one line for each place, pattern, heater, alarm, charge that
// is spent or nearly, and note, in degrees Celsius. Points and commas, or the commas and semicolons of other regions.
// Cells never start a formula.

import { stringify } from 'csv-stringify/sync';
import type { HeatFigures, NightSheet } from '../../api/night.ts';
import type { CsvSeparators } from '../../api/csv-separators.ts';
import { acknowledgementOf } from './acknowledgement.ts';
import { reasonTexts } from './sheet-words.ts';

const COLUMNS = [
  'night',
  'from',
  'to',
  'what',
  'id',
  'name',
  'verdict',
  'reason',
  'min_celsius',
  'max_celsius',
  'mean_kinetic_celsius',
  'swings',
  'largest_swing_celsius',
  'out_of_band_minutes',
  'gap_minutes',
  'predicted_micrometres',
  'low_micrometres',
  'high_micrometres',
  'tolerance_micrometres',
  'standing',
  'invest_by',
  'hot_minutes',
  'over_ceiling_minutes',
  'at',
  'over_at',
  'by',
  'acknowledged_after_minutes',
  'dose_share',
] as const;
type Row = Partial<Record<(typeof COLUMNS)[number], string | number | null>>;

/** To a thousandth. */
export const roundToThousandth = (value: number | null): number | null =>
  value === null ? null : Math.round(value * 1000) / 1000;

const heat = (figures: HeatFigures): Row => ({
  min_celsius: roundToThousandth(figures.minCelsius),
  max_celsius: roundToThousandth(figures.maxCelsius),
  mean_kinetic_celsius: roundToThousandth(figures.meanKineticCelsius),
  swings: figures.swings,
  largest_swing_celsius: roundToThousandth(figures.largestSwingCelsius),
  out_of_band_minutes: figures.minutesOutOfBand,
  gap_minutes: roundToThousandth(figures.gapMinutes),
});

export const nightCsv = (sheet: NightSheet, separators: CsvSeparators): string => {
  const night = { night: sheet.date, from: sheet.from, to: sheet.to };
  const rows: readonly Row[] = [
    ...sheet.places.map(
      (place): Row => ({
        ...night,
        what: 'place',
        id: place.station,
        name: place.name,
        verdict: place.verdict,
        reason: reasonTexts(place.reasons),
        ...heat(place.figures),
      }),
    ),
    ...sheet.patterns.map(
      (pattern): Row => ({
        ...night,
        what: 'pattern',
        id: pattern.id,
        name: pattern.caseReference,
        verdict: pattern.verdict,
        reason: reasonTexts(pattern.reasons),
        ...heat(pattern.figures),
        predicted_micrometres: roundToThousandth(pattern.predictedMicrometres),
        low_micrometres: roundToThousandth(pattern.lowMicrometres),
        high_micrometres: roundToThousandth(pattern.highMicrometres),
        tolerance_micrometres: pattern.toleranceMicrometres,
        standing: pattern.standing,
        invest_by: pattern.investBy,
      }),
    ),
    ...sheet.heaters.map(
      (heater): Row => ({
        ...night,
        what: 'heater',
        id: heater.station,
        name: heater.name,
        reason: reasonTexts(heater.reasons),
        max_celsius: roundToThousandth(heater.maxCelsius),
        gap_minutes: roundToThousandth(heater.gapMinutes),
        hot_minutes: heater.minutesHot,
        over_ceiling_minutes: heater.minutesOverCeiling,
      }),
    ),
    ...sheet.alarms.map((alarm): Row => {
      const acknowledgement = acknowledgementOf(alarm);
      return {
        ...night,
        what: 'alarm',
        id: alarm.id,
        name: alarm.place,
        reason: alarm.message,
        at: alarm.raisedAt,
        over_at: alarm.clearedAt,
        by: acknowledgement?.by ?? null,
        acknowledged_after_minutes: acknowledgement?.afterMinutes ?? null,
      };
    }),
    ...(sheet.charges?.near ?? []).map(
      ({ station, name, isSpent, doseShare }): Row => ({
        ...night,
        what: 'charge',
        id: station,
        name,
        verdict: isSpent ? 'spent' : 'nearly-spent',
        at: sheet.charges?.at ?? null,
        dose_share: roundToThousandth(doseShare),
      }),
    ),
    ...sheet.notes.map(
      (note): Row => ({ ...night, what: 'note', reason: note.text, at: note.at, by: note.by }),
    ),
  ];
  return csv(COLUMNS, rows, separators);
};

/**
 * Where a spreadsheet of another region opens the file, cells begin at its separators too, and lines at those of a note.
 * A number that ends there, as in a list of them, is no formula.
 */
const AMID_FORMULA = /([,;\t\r\n])(?=[=+\-@＝＋－＠])(?!-\d+(?:\.\d+)?(?:[,\]}]|$))/g;

/** With a byte order mark, by which spreadsheets detect UTF-8. */
export const csv = (
  columns: readonly string[],
  rows: readonly Readonly<Record<string, string | number | null | undefined>>[],
  separators: CsvSeparators = 'comma',
): string =>
  stringify([...rows], {
    delimiter: separators === 'semicolon' ? ';' : ',',
    header: true,
    columns: [...columns],
    bom: true,
    record_delimiter: 'windows',
    escape_formulas: true,
    // A number below zero is no formula.
    cast: {
      string: (value) => value.replaceAll(AMID_FORMULA, "$1'"),
      number: (value) => ({
        value: separators === 'semicolon' ? String(value).replace('.', ',') : String(value),
        escape_formulas: false,
      }),
    },
  });
