// The bench's figures over many cases, each by fault and in total, as one line of JSON a figure.

import type { CaseScore, ScoredFault } from './score-case.ts';

export interface Figure {
  readonly name: string;
  /** Absent in totals. */
  readonly fault?: string;
  readonly rule?: string;
  /** Null where nothing was there to count. */
  readonly value: number | null;
  readonly unit: string;
  /** Faults, or station-months, that the value rests on. */
  readonly n: number;
}

/** A month as alarm practice counts it. */
export const HOURS_PER_STATION_MONTH = 730;

/** By linear interpolation between the two nearest; null of nothing. */
export function quantile(values: readonly number[], share: number): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  const place = (sorted.length - 1) * share;
  const below = sorted[Math.floor(place)];
  const above = sorted[Math.ceil(place)];
  return below === undefined || above === undefined ? null : below + (above - below) * (place % 1);
}

const roundOrNull = (value: number | null): number | null =>
  value === null ? null : Math.round(value * 1000) / 1000;

const share = (
  name: string,
  all: readonly ScoredFault[],
  counts: (fault: ScoredFault) => boolean,
): Figure => ({
  name,
  value: all.length === 0 ? null : roundOrNull(all.filter(counts).length / all.length),
  unit: 'share',
  n: all.length,
});

const minutes = (name: string, values: readonly (number | null)[], at: number): Figure => {
  const found = values.filter((value) => value !== null);
  return { name, value: roundOrNull(quantile(found, at)), unit: 'min', n: found.length };
};

function ofFaults(faults: readonly ScoredFault[]): readonly Figure[] {
  const harmful = faults.filter(({ harm }) => harm !== null);
  const leads = harmful.map(({ leadMinutes }) => leadMinutes);
  const caused = faults.filter(({ isRightCause }) => isRightCause !== null);
  return [
    share('found-share', harmful, ({ outcome }) => outcome === 'found'),
    share('told-share', harmful, ({ isNotified }) => isNotified),
    minutes('lead-median', leads, 0.5),
    minutes('lead-tenth-percentile', leads, 0.1),
    minutes(
      'delay-median',
      faults.map(({ delayMinutes }) => delayMinutes),
      0.5,
    ),
    share('right-cause-share', caused, ({ isRightCause }) => isRightCause === true),
    share('late-share', harmful, ({ outcome }) => outcome === 'late'),
    share('never-share', harmful, ({ outcome }) => outcome === 'never'),
  ];
}

export function figures(scores: readonly CaseScore[]): readonly Figure[] {
  const faults = scores.flatMap((score) => score.faults);
  const nuisances = scores.flatMap((score) => score.nuisances);
  const stationMonths =
    scores.reduce((sum, { goodStationHours }) => sum + goodStationHours, 0) / HOURS_PER_STATION_MONTH;
  const perMonth = (count: number) => ({
    value: stationMonths === 0 ? null : roundOrNull(count / stationMonths),
    unit: 'alarms/station-month',
    n: roundOrNull(stationMonths) ?? 0,
  });
  const kinds = [...new Set(faults.map(({ fault }) => fault))].sort();
  const rules = [...new Set(nuisances.map(({ rule }) => rule))]
    .map((rule) => ({ rule, count: nuisances.filter((nuisance) => nuisance.rule === rule).length }))
    .sort((a, b) => b.count - a.count || (a.rule < b.rule ? -1 : 1));
  const chatters = scores.reduce((sum, score) => sum + score.chatters.length, 0);
  return [
    ...kinds.flatMap((fault) =>
      ofFaults(faults.filter((scored) => scored.fault === fault)).map(({ name, ...figure }) => ({
        name,
        fault,
        ...figure,
      })),
    ),
    ...ofFaults(faults),
    { name: 'nuisance-per-station-month', ...perMonth(nuisances.length) },
    ...rules.map(({ rule, count }) => ({ name: 'nuisance-of-rule', rule, ...perMonth(count) })),
    { name: 'chattering', value: chatters, unit: 'alarms', n: scores.length },
  ];
}
