// The night sheet, put together from what was measured and done. Pure: the same inputs give the same sheet, so a
// night of last year reads today as it did then, but for what late readings have added.

import type { SeriesBucket } from '../../../collector/store/store.ts';
import type { Station } from '../../../lab/station.ts';
import type { Say } from '../../../words/load-languages.ts';
import type { Values } from '../../../words/quantity.ts';
import { heats, stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type {
  AlarmLine,
  HeaterLine,
  NearCharge,
  NightSheet,
  Note,
  PatternLine,
  PlaceLine,
  ProbeLine,
  Signature,
} from '../../api/night.ts';
import { heatFigures, minutesWhere } from './heat-figures.ts';
import type { NightSpan } from './night-span.ts';
import { type PatternNight, patternLine } from './pattern-line.ts';
import { seeTo } from './see-to.ts';
import { judge, nightReasons, type PlaceLimits, reasonFor, saySinceWhen } from './verdict.ts';
import type { SheetWords } from './sheet-words.ts';
import { iso } from '../../../wax/iso.ts';

export interface StationNight {
  readonly station: Station;
  readonly buckets: readonly SeriesBucket[];
  readonly widthMillis: number;
  /** Those that held at the end of the night. */
  readonly limits: PlaceLimits;
  /** A heater counts as hot from here, °C. */
  readonly hotFrom: number;
  readonly ceiling: number | null;
  /** What held at an instant of the night, °C. */
  readonly storageMaxAt: (at: EpochMillis) => number | null;
  readonly ceilingAt: (at: EpochMillis) => number | null;
}

export interface LowBattery {
  readonly code: 'probe-battery' | 'probe-battery-volts';
  readonly values: Values;
}

export interface ProbeNight {
  readonly probe: string;
  readonly stationName: string | null;
  readonly buckets: readonly SeriesBucket[];
  readonly widthMillis: number;
  /** Of a battery that is low now; null where none is, and on the sheet of an earlier night. */
  readonly lowBattery: LowBattery | null;
}

export interface NightAlarm extends AlarmLine {
  readonly subject: string;
  readonly subjectKind: string;
}

export interface NightInputs {
  readonly lab: string;
  readonly timeZone: string;
  readonly span: NightSpan;
  readonly now: EpochMillis;
  readonly stations: readonly StationNight[];
  readonly patterns: readonly PatternNight[];
  readonly probes: readonly ProbeNight[];
  /** Null on the sheet of an earlier night. */
  readonly charges: readonly NearCharge[] | null;
  /** Raised in the night or still on when it began. */
  readonly alarms: readonly NightAlarm[];
}

/** Buckets of the chart; more than the widest print can show. */
const COURSE_POINTS = 240;
/** A heater that is off is no longer hot after this: a large pot gives off its heat of fusion. Common practice. */
const COOLING_MINUTES = 240;
/** Common practice, as all three. */
const UNWELL_GAP_MINUTES = 30;
const UNWELL_DOUBTFUL_SHARE = 0.05;

const course = ({ buckets, widthMillis }: StationNight): Pick<PlaceLine, 'course' | 'courseSeconds'> => {
  const together = Math.max(1, Math.ceil(buckets.length / COURSE_POINTS));
  const width = widthMillis * together;
  const groups = new Map<number, SeriesBucket[]>();
  for (const bucket of buckets) {
    const at = Math.floor(bucket.at / width) * width;
    groups.set(at, [...(groups.get(at) ?? []), bucket]);
  }
  return {
    courseSeconds: width / 1000,
    course: [...groups.values()].map((group) => ({
      at: iso(group[0]?.at ?? 0),
      min: Math.min(...group.map(({ min }) => min)),
      mean:
        group.reduce((sum, { mean, count }) => sum + mean * count, 0) /
        group.reduce((n, { count }) => n + count, 0),
      max: Math.max(...group.map(({ max }) => max)),
    })),
  };
};

export const endOf = ({ span, now }: Pick<NightInputs, 'span' | 'now'>): EpochMillis =>
  Math.min(span.opens, now) as EpochMillis;

interface Night {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

const placeLine = (
  place: StationNight,
  night: Night,
  patterns: readonly PatternLine[],
  say: Say,
): PlaceLine => {
  const { station, limits } = place;
  const figures = heatFigures({ ...place, ...night }, place.storageMaxAt);
  const { verdict, reasons } = judge(
    nightReasons(figures, limits),
    { verdict: 'may-be-invested', code: 'kept-well', values: {} },
    say,
  );
  return {
    station: station.id,
    name: station.name,
    kind: station.kind,
    verdict,
    reasons: [...saySinceWhen(reasons, figures, night.from, say)],
    figures,
    storageMaxCelsius: limits.storageMax,
    patterns: patterns.filter((pattern) => pattern.station === station.id).map(({ id }) => id),
    ...course(place),
  };
};

const heaterLine = (
  heater: StationNight,
  night: Night,
  alarms: readonly NightAlarm[],
  say: Say,
): HeaterLine => {
  const { station, ceiling, hotFrom } = heater;
  const { maxCelsius, gapMinutes } = heatFigures({ ...heater, ...night }, heater.storageMaxAt);
  const measured = { ...heater, to: night.to };
  const minutesHot = minutesWhere(measured, (mean) => mean >= hotFrom);
  const minutesOverCeiling = minutesWhere(
    measured,
    (mean, at) => mean > (heater.ceilingAt(at) ?? Number.POSITIVE_INFINITY),
  );
  const leftOn =
    minutesHot > COOLING_MINUTES ||
    alarms.some(({ rule, subject }) => rule === 'left-on' && subject === station.id);
  return {
    station: station.id,
    name: station.name,
    kind: station.kind,
    leftOn,
    maxCelsius,
    minutesHot,
    minutesOverCeiling,
    gapMinutes,
    reasons: [
      ...(leftOn
        ? [reasonFor(say, 'left-on', { hot_minutes: minutesHot, peak_celsius: maxCelsius ?? 0 })]
        : []),
      ...(minutesOverCeiling > 0 && ceiling !== null
        ? [reasonFor(say, 'over-ceiling', { over_minutes: minutesOverCeiling, limit_celsius: ceiling })]
        : []),
    ],
  };
};

/** Null for a probe that measured well and goes on. */
const probeLine = (
  { probe, stationName, lowBattery, ...measured }: ProbeNight,
  night: Night,
  alarms: readonly NightAlarm[],
  say: Say,
): ProbeLine | null => {
  const figures = heatFigures({ ...measured, ...night }, () => null);
  const { gapMinutes, doubtfulShare } = figures;
  const own = alarms.filter(
    ({ subject, subjectKind, raisedAt, clearedAt }) =>
      subjectKind === 'probe' &&
      subject === probe &&
      // What was over soon after closing belongs to the day.
      (Date.parse(raisedAt) >= night.from ||
        clearedAt === null ||
        Date.parse(clearedAt) - night.from > UNWELL_GAP_MINUTES * MILLIS_PER_MINUTE),
  );
  const reasons = [
    ...(gapMinutes > UNWELL_GAP_MINUTES ? [reasonFor(say, 'probe-gap', { gap_minutes: gapMinutes })] : []),
    ...(doubtfulShare > UNWELL_DOUBTFUL_SHARE
      ? [reasonFor(say, 'probe-doubtful', { doubtful_share: doubtfulShare })]
      : []),
    ...own.map(({ message }) => reasonFor(say, 'probe-alarm', { message })),
    ...(lowBattery === null ? [] : [reasonFor(say, lowBattery.code, lowBattery.values)]),
  ];
  if (reasons.length === 0) return null;
  const said = saySinceWhen(reasons, figures, night.from, say);
  return { probe, stationName, reasons: [...said], gapMinutes, doubtfulShare };
};

const digestOfFigures = (digest: (figures: unknown) => string, parts: readonly unknown[]): string =>
  digest(
    parts.map((part) =>
      JSON.parse(JSON.stringify(part, (key, value: unknown) => (NOT_SIGNED.has(key) ? undefined : value))),
    ),
  );

/** @param digest of the figures, by which a signature shows whether they have changed since */
export function nightSheet(
  inputs: NightInputs,
  record: { readonly notes: readonly Note[]; readonly signatures: readonly Omit<Signature, 'holds'>[] },
  digest: (figures: unknown) => string,
  words: SheetWords,
): NightSheet {
  const { span } = inputs;
  const { say } = words;
  const night: Night = { from: span.from, to: endOf(inputs) };
  const patterns = inputs.patterns.map((pattern) => patternLine(pattern, night, say)).sort(worstFirst);
  const places = inputs.stations
    .filter(({ station }) => stores(station.kind))
    .map((place) => placeLine(place, night, patterns, say));
  const heaters = inputs.stations
    .filter(({ station }) => heats(station.kind))
    .map((heater) => heaterLine(heater, night, inputs.alarms, say));
  const probeLines = (nights: readonly ProbeNight[]) =>
    nights.flatMap((probe) => probeLine(probe, night, inputs.alarms, say) ?? []);
  const probes = probeLines(inputs.probes);
  // A battery is a matter of now: it must not undo a signature when the sheet is read another day.
  const measured = probeLines(inputs.probes.map((probe) => ({ ...probe, lowBattery: null })));
  const alarms = inputs.alarms.map(({ subject: _, subjectKind: __, ...line }) => line);
  const count = (verdict: PatternLine['verdict']) =>
    patterns.filter((pattern) => pattern.verdict === verdict).length;
  const figures = digestOfFigures(digest, [span.date, places, patterns, heaters, measured]);
  return {
    date: span.date,
    lab: inputs.lab,
    timeZone: inputs.timeZone,
    from: iso(span.from),
    to: iso(night.to),
    opens: iso(span.opens),
    isOver: inputs.now >= span.opens,
    hoursKnown: span.hoursKnown,
    counts: { mayBeInvested: count('may-be-invested'), check: count('check'), remake: count('remake') },
    seeTo: [...seeTo({ patterns, places, heaters, probes, alarms: inputs.alarms }, words)],
    places,
    patterns,
    heaters,
    probes,
    alarms,
    charges: inputs.charges && { at: iso(inputs.now), near: [...inputs.charges] },
    notes: [...record.notes],
    signatures: record.signatures.map((signature) => ({
      ...signature,
      holds: signature.figures === figures,
    })),
    figures,
  };
}

/** What may change after signing without a change of the figures: words of a language, and a later fate. */
const NOT_SIGNED = new Set(['text', 'message', 'fate', 'name', 'stationName', 'course', 'courseSeconds']);

const NEVER = '9999-12-31T00:00:00Z';
const RANK = { remake: 0, check: 1, 'may-be-invested': 2 } as const;
const worstFirst = (left: PatternLine, right: PatternLine): number =>
  RANK[left.verdict] - RANK[right.verdict] ||
  Date.parse(left.investBy ?? NEVER) - Date.parse(right.investBy ?? NEVER) ||
  (left.id < right.id ? -1 : 1);

/** Buckets of a minute as long as the night is not longer than the store answers at once. */
export const nightPoints = (from: EpochMillis, to: EpochMillis): number =>
  Math.min(5000, Math.ceil((to - from) / MILLIS_PER_MINUTE) + 2);
