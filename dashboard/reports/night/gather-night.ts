// What the sheet of one night is made of, read from the running lab: buckets of the store, patterns, alarms and what
// people did. It judges nothing.

import { ruleFigures } from '../../../alerts/watch/engine/rule-figures.ts';
import { nightSwing } from '../../../alerts/watch/rules/storage/night-swing.ts';
import { coldLimit } from '../../../alerts/watch/measures/activity.ts';
import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import type { SeriesBucket } from '../../../collector/store/store.ts';
import { LOW_BATTERY_PERCENT } from '../../../lab/device-status.ts';
import { patternsWaxClass, stationLimits } from '../../../lab/limits.ts';
import type { Pattern, PatternStay } from '../../../lab/pattern.ts';
import { patternCare } from '../../../lab/pattern-care.ts';
import type { StationSettings } from '../../../lab/database/settings-history.ts';
import type { Station } from '../../../lab/station.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { NearCharge } from '../../api/night.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { AlarmWords } from '../../queries/alarm-words.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import { type SettingsInForce, settingsInForce } from '../../queries/settings-in-force.ts';
import { cacheBuckets, widenBuckets } from '../../queries/cache-buckets.ts';
import { stationSeries } from '../../queries/station-series.ts';
import {
  endOf,
  type LowBattery,
  type NightAlarm,
  type NightInputs,
  nightPoints,
  type StationNight,
} from './night-sheet.ts';
import { nearCharges } from './near-charges.ts';
import { latestNight, type NightSpan } from './night-span.ts';
import type { PatternNight } from './pattern-line.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

interface Span {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

const MOST_PATTERNS = 2000;
const MOST_ALARMS = 2000;
/** An alarm that was raised longer before the night is in the list of that day. */
const ALARM_REACH_MILLIS = 30 * MILLIS_PER_DAY;
const PROBE_STEP_MILLIS = 5 * MILLIS_PER_MINUTE;
const MOST_POINTS = 5000;

/** The limit of this night's swing that held; the default where the rule was off or nothing is on record. */
const largestSwing = (settings: StationSettings | undefined): number =>
  settings?.ruleFigures['night-swing']?.limit_celsius_difference ??
  nightSwing.parameters.limit_celsius_difference?.default ??
  Number.POSITIVE_INFINITY;

const widthOf = (span: Span, points: number): number => bucketPlan({ ...span, points })?.width ?? 0;

/** Judged by what held in the span. */
export const stationNight = async (
  running: RunningLab,
  station: Station,
  span: Span,
  settings: SettingsInForce,
): Promise<StationNight> => {
  const points = nightPoints(span.from, span.to);
  const periods = settings.periodsOf(station.id);
  const held = (at: EpochMillis): StationSettings | undefined =>
    (periods.findLast(({ from }) => from <= at) ?? periods[0])?.settings;
  const atEnd = periods.at(-1)?.settings;
  const limits = atEnd?.limits ?? stationLimits(station, settings.lab);
  return {
    station,
    buckets: await stationSeries(running, station, { ...span, points }),
    widthMillis: widthOf(span, points),
    limits: {
      storageMax: limits.storageMax?.value ?? null,
      meltsFrom: atEnd?.meltsFrom ?? null,
      largestSwing: largestSwing(atEnd),
    },
    hotFrom: limits.windowLow?.value ?? coldLimit(limits),
    ceiling: limits.ceiling?.value ?? null,
    storageMaxAt: (at) => held(at)?.limits.storageMax?.value ?? null,
    ceilingAt: (at) => held(at)?.limits.ceiling?.value ?? null,
  };
};

const clipStay = (stay: PatternStay, span: Span): Span | null => {
  const from = Math.max(span.from, Date.parse(stay.from));
  const to = Math.min(span.to, stay.to === null ? span.to : Date.parse(stay.to));
  return from < to ? { from: epochMillis(from), to: epochMillis(to) } : null;
};

/** Readings where the pattern lay, in buckets of about one width. */
const seriesOf = async (
  running: RunningLab,
  pattern: Pattern,
  span: Span,
  widthMillis: number,
  settings: SettingsInForce,
): Promise<readonly SeriesBucket[]> => {
  const parts = pattern.stays.map(async (stay) => {
    const part = clipStay(stay, span);
    const station = settings.lab.stations.find(({ id }) => id === stay.station);
    if (part === null || station === undefined) return [];
    const points = Math.ceil((part.to - part.from) / widthMillis) + 1;
    return stationSeries(running, station, { ...part, points });
  });
  return (await Promise.all(parts)).flat();
};

/** Waiting ones at any time of the span, whatever became of them since. */
const patternsIn = (running: RunningLab, span: Span): readonly Pattern[] =>
  running.repository
    .allPatterns(MOST_PATTERNS)
    .filter(
      ({ madeAt, fate, stays }) =>
        Date.parse(madeAt) < span.to &&
        (fate === null || Date.parse(fate.at) > span.from) &&
        stays.some((stay) => clipStay(stay, span) !== null),
    );

const patternNight = async (
  running: RunningLab,
  pattern: Pattern,
  night: Span,
  isOver: boolean,
  settings: SettingsInForce,
): Promise<PatternNight> => {
  const { lab } = settings;
  const isPresent = !isOver && pattern.fate === null;
  const last = pattern.stays.findLast((stay) => clipStay(stay, night) !== null);
  const station = last?.station ?? '';
  const life = { from: epochMillis(Math.min(Date.parse(pattern.madeAt), night.from)), to: night.to };
  const lifeWidthMillis = Math.max(MILLIS_PER_MINUTE, widthOf(life, MOST_POINTS));
  const nightWidthMillis = widthOf(night, nightPoints(night.from, night.to));
  const [whole, own] = await Promise.all([
    seriesOf(running, pattern, life, lifeWidthMillis, settings),
    seriesOf(running, pattern, night, nightWidthMillis, settings),
  ]);
  return {
    pattern,
    wax: patternsWaxClass(pattern, lab),
    station,
    stationName: lab.stations.find(({ id }) => id === station)?.name ?? station,
    care: patternCare(lab.site.patternCare),
    present: isPresent ? (running.patternOutlook?.(pattern.id)?.verdict ?? null) : null,
    life: whole,
    lifeWidthMillis,
    night: own,
    nightWidthMillis,
  };
};

const alarmsIn = (
  running: RunningLab,
  words: AlarmWords,
  night: Span,
  reader: ReaderSettings,
): readonly NightAlarm[] => {
  const lab = running.lab();
  return running
    .alarmsBetween(epochMillis(night.from - ALARM_REACH_MILLIS), night.to, MOST_ALARMS)
    .filter(({ priority, raisedAt, clearedAt }) => {
      const reaches = raisedAt >= night.from || clearedAt === null || clearedAt > night.from;
      // A notice needs nobody to act.
      return priority !== 'notice' && reaches;
    })
    .map((alarm): NightAlarm => {
      const station = alarmStation(lab, alarm);
      return {
        id: alarm.id,
        rule: alarm.rule,
        subject: alarm.subject,
        subjectKind: alarm.subjectKind,
        priority: alarm.priority,
        place: lab.stations.find(({ id }) => id === station)?.name ?? alarm.subject,
        message: words(alarm, lab, reader).message,
        raisedAt: iso(alarm.raisedAt),
        clearedAt: isoOrNull(alarm.clearedAt),
        acknowledged: alarm.acknowledged,
        acts: running
          .alarmChanges(alarm.id)
          .flatMap(({ at, kind, by, reason }) => (by === null ? [] : [{ at: iso(at), kind, by, reason }])),
      };
    });
};

/** Buckets of five minutes of a probe, from those that its station has anyway where their widths fit. */
const probeBuckets = async (
  { store }: RunningLab,
  probe: string,
  night: Span,
  points: number,
): Promise<readonly SeriesBucket[]> => {
  const fine = nightPoints(night.from, night.to);
  const [width, wanted] = [widthOf(night, fine), widthOf(night, points)];
  return width > 0 && wanted % width === 0
    ? widenBuckets(await store.buckets({ probe, ...night, points: fine }), wanted, night.from)
    : store.buckets({ probe, ...night, points });
};

const chargesNow = (running: RunningLab): readonly NearCharge[] => {
  const lab = running.lab();
  return nearCharges(
    running.statuses().flatMap(({ station: id, doseShare }) => {
      const station = lab.stations.find((place) => place.id === id);
      if (station === undefined) return [];
      const figures = ruleFigures(station, lab);
      return [{ station: id, name: station.name, doseShare: doseShare ?? null, figures }];
    }),
  );
};

const lowBattery = (running: RunningLab, probe: string, gateway: string): LowBattery | null => {
  const status = running.deviceStatus(probe, gateway);
  if (status?.isBatteryLow !== true) return null;
  const { battery_percent, battery_volts, battery_low_volts } = status;
  return battery_percent !== null && battery_percent <= LOW_BATTERY_PERCENT
    ? { code: 'probe-battery', values: { battery_share: battery_percent / 100 } }
    : {
        code: 'probe-battery-volts',
        values: { battery_volts: battery_volts ?? 0, limit_volts: battery_low_volts ?? 0 },
      };
};

export const gatherNight = async (
  asked: RunningLab,
  words: AlarmWords,
  span: NightSpan,
  reader: ReaderSettings,
): Promise<NightInputs> => {
  const running = { ...asked, store: { ...asked.store, buckets: cacheBuckets(asked.store) } };
  const now = running.now();
  const night = { from: span.from, to: endOf({ span, now }) };
  const isLatest = latestNight(asked.lab().site, now).date === span.date;
  const settings = settingsInForce(running, night.from, night.to);
  const { lab } = settings;
  const waiting = patternsIn(running, night);
  const oldest = Math.min(night.from, ...waiting.map(({ madeAt }) => Date.parse(madeAt)));
  const sinceMade = settingsInForce(running, epochMillis(oldest), night.to);
  const points = Math.max(1, Math.ceil((night.to - night.from) / PROBE_STEP_MILLIS) + 1);
  const [stations, patterns, probes] = await Promise.all([
    Promise.all(lab.stations.map((station) => stationNight(running, station, night, settings))),
    Promise.all(
      waiting.map((pattern) => patternNight(running, pattern, night, now >= span.opens, sinceMade)),
    ),
    Promise.all(
      lab.probes
        .filter(({ station }) => station !== null)
        // A probe that first reported after the night missed nothing in it.
        .filter(({ id }) => (asked.seenProbe(id)?.firstSeen ?? night.from) < night.to)
        .map(async ({ id, station, gateway }) => ({
          probe: id,
          lowBattery: isLatest ? lowBattery(asked, id, gateway) : null,
          stationName: lab.stations.find((place) => place.id === station)?.name ?? null,
          buckets: await probeBuckets(running, id, night, points),
          widthMillis: widthOf(night, points),
        })),
    ),
  ]);
  return {
    lab: lab.site.name,
    timeZone: lab.site.timeZone,
    span,
    now,
    stations,
    patterns,
    probes,
    charges: isLatest ? chargesNow(asked) : null,
    alarms: alarmsIn(running, words, night, reader),
  };
};
