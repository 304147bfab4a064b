// The record of a span as one table (RFC 4180): a line for each step, limit, stay beyond a limit, alarm, signed cause,
// probe and point of its calibration, change and training; degrees Celsius and plain numbers, in no language but for
// the sentence of an alarm.

import type { EvidenceExcursion, EvidencePlace, EvidenceReport } from '../../api/evidence.ts';
import { csv, roundToThousandth } from '../night/sheet-csv.ts';

const COLUMNS = [
  'what',
  'place',
  'id',
  'from',
  'to',
  'readings',
  'doubtful_readings',
  'min_celsius',
  'max_celsius',
  'mean_celsius',
  'mean_kinetic_celsius',
  'beyond_minutes',
  'gap_minutes',
  'window_low_celsius',
  'window_high_celsius',
  'ceiling_celsius',
  'storage_max_celsius',
  'night_swing_celsius',
  'recorded',
  'side',
  'extreme_celsius',
  'limit_celsius',
  'reading_celsius',
  'reference_celsius',
  'as_found_error_celsius',
  'as_left_error_celsius',
  'uncertainty_celsius',
  'day',
  'by',
  'action',
  'before',
  'after',
  'cause',
  'correction',
  'text',
] as const;
type Row = Partial<Record<(typeof COLUMNS)[number], string | number | null>>;

const excursionRows = (place: string, excursion: EvidenceExcursion): readonly Row[] => {
  const { id, rule, raisedAt, clearedAt, message, acts, notices, signed } = excursion;
  return [
    { what: 'alarm', place, id, action: rule, from: raisedAt, to: clearedAt, text: message },
    ...notices.map(
      ({ at, channel, to, state }): Row => ({
        what: 'notice',
        place,
        id,
        from: at,
        by: to,
        action: channel,
        text: state,
      }),
    ),
    ...acts.map(
      ({ at, by, kind, reason }): Row => ({
        what: 'act',
        place,
        id,
        from: at,
        by,
        action: kind,
        text: reason,
      }),
    ),
    ...signed.map(
      ({ at, by, cause, correction }): Row => ({
        what: 'signed-cause',
        place,
        id,
        from: at,
        by,
        cause,
        correction,
      }),
    ),
  ];
};

const placeRows = (place: EvidencePlace): readonly Row[] => {
  const at = place.station;
  const figures = (what: string, part: EvidencePlace['whole']): Row => ({
    what,
    place: at,
    from: part.from,
    to: part.to,
    readings: part.readings,
    doubtful_readings: part.doubtfulReadings,
    min_celsius: roundToThousandth(part.minCelsius),
    max_celsius: roundToThousandth(part.maxCelsius),
    mean_celsius: roundToThousandth(part.meanCelsius),
    mean_kinetic_celsius: roundToThousandth(part.meanKineticCelsius),
    // Of no reading it is not known.
    beyond_minutes: part.readings === 0 ? null : roundToThousandth(part.minutesBeyond),
    gap_minutes: roundToThousandth(part.gapMinutes),
  });
  return [
    { ...figures('readings', place.whole), id: at, text: place.name, action: place.kind },
    ...place.steps.map((step) => figures('readings-step', step)),
    ...place.limits.map(
      (limit): Row => ({
        what: 'limit',
        place: at,
        from: limit.from,
        to: limit.to,
        recorded: limit.isRecorded ? 'yes' : 'no',
        text: limit.wax,
        window_low_celsius: limit.windowLow?.celsius ?? null,
        window_high_celsius: limit.windowHigh?.celsius ?? null,
        ceiling_celsius: limit.ceiling?.celsius ?? null,
        storage_max_celsius: limit.storageMax?.celsius ?? null,
        night_swing_celsius: limit.largestNightSwingCelsius,
      }),
    ),
    ...place.beyond.map(
      (run): Row => ({
        what: 'beyond-limit',
        place: at,
        from: run.from,
        to: run.to,
        side: run.side,
        extreme_celsius: roundToThousandth(run.extremeCelsius),
        limit_celsius: run.limitCelsius,
        beyond_minutes: roundToThousandth(run.minutes),
      }),
    ),
    ...place.excursions.flatMap((excursion) => excursionRows(at, excursion)),
    ...place.probes.flatMap((probe): readonly Row[] => [
      {
        what: 'probe',
        place: at,
        id: probe.probe,
        from: probe.from,
        to: probe.to,
        uncertainty_celsius: probe.uncertaintyCelsius,
        day: probe.certificate?.day ?? null,
        text: probe.certificate?.reference ?? null,
      },
      ...(probe.certificate?.points ?? []).map((point) => ({
        what: 'calibration-point',
        place: at,
        id: probe.probe,
        day: probe.certificate?.day ?? null,
        reading_celsius: point.readingCelsius,
        reference_celsius: point.referenceCelsius,
        as_found_error_celsius: roundToThousandth(point.asFoundErrorCelsius),
        as_left_error_celsius: roundToThousandth(point.asLeftErrorCelsius),
      })),
    ]),
  ];
};

const jsonOrNull = (value: unknown): string | null =>
  value === null || value === undefined ? null : JSON.stringify(value);

export const evidenceCsv = (report: EvidenceReport): string =>
  csv(COLUMNS, [
    {
      what: 'record',
      id: report.figures,
      from: report.from,
      to: report.to,
      day: report.madeAt,
      text: `${report.lab} (${report.timeZone}); waxwarden ${report.version}`,
    },
    ...report.places.flatMap(placeRows),
    ...report.elsewhere.flatMap((excursion) => excursionRows('', excursion)),
    ...report.changes.map(
      (row): Row => ({
        what: 'change',
        id: `${row.entity}/${row.entityId}`,
        from: row.at,
        by: row.actor,
        action: row.action,
        before: jsonOrNull(row.before),
        after: jsonOrNull(row.after),
        text: row.reason,
      }),
    ),
    ...report.training.map(
      (entry): Row => ({
        what: entry.withdrawn === null ? 'training' : 'training-withdrawn',
        id: String(entry.number),
        day: entry.day,
        from: entry.at,
        by: entry.shownBy,
        action: entry.procedure,
        after: entry.edition,
        before: entry.withdrawn?.reason ?? null,
        text: entry.person,
      }),
    ),
  ]);
