// The night sheet, put together from what was measured and done. Pure: the same inputs give the same sheet, so a
// night of last year reads today as it did then, but for what late readings have added.

import type { Bucket } from '../../../collector/store/store.ts';
import type { Station } from '../../../lab/station.ts';
import { heats, stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type {
  AlarmLine,
  HeaterLine,
  NightSheet,
  Note,
  PatternLine,
  PlaceLine,
  ProbeLine,
  Reason,
  Signature,
} from '../../api/night.ts';
import { heatFigures, type Measured, minutesWhere } from './heat-figures.ts';
import type { NightSpan } from './night-span.ts';
import { type PatternNight, patternLine } from './pattern-line.ts';
import { seeTo } from './see-to.ts';
import {
  judged,
  nightFindings,
  type PlaceLimits,
  type ReasonCode,
  type ReasonValues,
} from '../words/verdict.ts';
import type { Speaker } from '../words/night-words.ts';

export interface StationNight {
  readonly station: Station;
  readonly buckets: readonly Bucket[];
  readonly widthMillis: number;
  readonly limits: PlaceLimits;
  /** A heater counts as hot from here, °C. */
  readonly hotFrom: number;
  readonly ceiling: number | null;
}

export interface ProbeNight {
  readonly probe: string;
  readonly stationName: string | null;
  readonly buckets: readonly Bucket[];
  readonly widthMillis: number;
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
  const groups = new Map<number, Bucket[]>();
  for (const bucket of buckets) {
    const at = Math.floor(bucket.at / width) * width;
    groups.set(at, [...(groups.get(at) ?? []), bucket]);
  }
  return {
    courseSeconds: width / 1000,
    course: [...groups.values()].map((group) => ({
      at: new Date(group[0]?.at ?? 0).toISOString(),
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

export function nightSheet(
  inputs: NightInputs,
  record: { readonly notes: readonly Note[]; readonly signatures: readonly Omit<Signature, 'holds'>[] },
  digest: (figures: unknown) => string,
  speaker: Speaker,
): NightSheet {
  const { span } = inputs;
  const to = endOf(inputs);
  const night = { from: span.from, to };
  const say = (code: ReasonCode, values: ReasonValues): Reason => ({
    code,
    values: { ...values },
    text: speaker.say(code, values),
  });
  const patterns = inputs.patterns.map((one) => patternLine(one, night, speaker.say)).sort(worstFirst);
  const places = inputs.stations
    .filter(({ station }) => stores(station.kind))
    .map((one): PlaceLine => {
      const measured: Measured = { ...one, ...night };
      const figures = heatFigures(measured, one.limits.storageMax);
      const { verdict, reasons } = judged(
        nightFindings(figures, one.limits),
        { verdict: 'may-be-invested', code: 'kept-well', values: {} },
        speaker.say,
      );
      return {
        station: one.station.id,
        name: one.station.name,
        kind: one.station.kind,
        verdict,
        reasons: [...reasons],
        figures,
        storageMaxCelsius: one.limits.storageMax,
        patterns: patterns.filter(({ station }) => station === one.station.id).map(({ id }) => id),
        ...course(one),
      };
    });
  const heaters = inputs.stations
    .filter(({ station }) => heats(station.kind))
    .map((one): HeaterLine => {
      const figures = heatFigures({ ...one, ...night }, null);
      const minutesHot = minutesWhere({ ...one, to }, (mean) => mean >= one.hotFrom);
      const { ceiling } = one;
      const over = ceiling === null ? 0 : minutesWhere({ ...one, to }, (mean) => mean > ceiling);
      const leftOn =
        minutesHot > COOLING_MINUTES ||
        inputs.alarms.some(({ rule, subject }) => rule === 'left-on' && subject === one.station.id);
      return {
        station: one.station.id,
        name: one.station.name,
        kind: one.station.kind,
        leftOn,
        maxCelsius: figures.maxCelsius,
        minutesHot,
        minutesOverCeiling: over,
        gapMinutes: figures.gapMinutes,
        reasons: [
          ...(leftOn
            ? [say('left-on', { hot_minutes: minutesHot, peak_celsius: figures.maxCelsius ?? 0 })]
            : []),
          ...(over > 0 && ceiling !== null
            ? [say('over-ceiling', { over_minutes: over, limit_celsius: ceiling })]
            : []),
        ],
      };
    });
  const probes = inputs.probes.flatMap((one): readonly ProbeLine[] => {
    const { gapMinutes, doubtfulShare } = heatFigures({ ...one, ...night }, null);
    const own = inputs.alarms.filter(
      ({ subject, subjectKind, raisedAt, clearedAt }) =>
        subjectKind === 'probe' &&
        subject === one.probe &&
        // What was over soon after closing is a matter of the day.
        (Date.parse(raisedAt) >= span.from ||
          clearedAt === null ||
          Date.parse(clearedAt) - span.from > UNWELL_GAP_MINUTES * MILLIS_PER_MINUTE),
    );
    const reasons = [
      ...(gapMinutes > UNWELL_GAP_MINUTES ? [say('probe-gap', { gap_minutes: gapMinutes })] : []),
      ...(doubtfulShare > UNWELL_DOUBTFUL_SHARE
        ? [say('probe-doubtful', { doubtful_share: doubtfulShare })]
        : []),
      ...own.map(({ message }) => say('probe-alarm', { message })),
    ];
    return reasons.length === 0
      ? []
      : [{ probe: one.probe, stationName: one.stationName, reasons, gapMinutes, doubtfulShare }];
  });
  const alarms = inputs.alarms.map(({ subject: _, subjectKind: __, ...line }) => line);
  const count = (verdict: PatternLine['verdict']) => patterns.filter((one) => one.verdict === verdict).length;
  const figures = digest(
    [span.date, places, patterns, heaters, probes].map((part) =>
      JSON.parse(JSON.stringify(part, (key, value: unknown) => (WORDED.has(key) ? undefined : value))),
    ),
  );
  return {
    date: span.date,
    lab: inputs.lab,
    timeZone: inputs.timeZone,
    from: new Date(span.from).toISOString(),
    to: new Date(to).toISOString(),
    opens: new Date(span.opens).toISOString(),
    isOver: inputs.now >= span.opens,
    hoursKnown: span.hoursKnown,
    counts: {
      mayBeInvested: count('may-be-invested'),
      check: count('check'),
      remake: count('remake'),
    },
    seeTo: [...seeTo({ patterns, places, heaters, probes, alarms }, speaker)],
    places,
    patterns,
    heaters,
    probes,
    alarms,
    notes: [...record.notes],
    signatures: record.signatures.map((one) => ({ ...one, holds: one.figures === figures })),
    figures,
  };
}

/** What may change after signing without a change of the figures: words of a language, and a later fate. */
const WORDED = new Set(['text', 'message', 'fate', 'name', 'stationName', 'course', 'courseSeconds']);

const RANK = { remake: 0, check: 1, 'may-be-invested': 2 } as const;
const worstFirst = (one: PatternLine, other: PatternLine): number =>
  RANK[one.verdict] - RANK[other.verdict] ||
  Date.parse(one.investBy ?? '9999-12-31T00:00:00Z') - Date.parse(other.investBy ?? '9999-12-31T00:00:00Z') ||
  (one.id < other.id ? -1 : 1);

/** Buckets of a minute as long as the night is not longer than the store answers at once. */
export const nightPoints = (from: EpochMillis, to: EpochMillis): number =>
  Math.min(5000, Math.ceil((to - from) / MILLIS_PER_MINUTE) + 2);
