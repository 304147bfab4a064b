// What the record of a span is made of, read from the running lab, the audit trail and the signed records. Readings are
// held against the limits of their own time.

import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Station } from '../../../lab/station.ts';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { alarmStation } from '../../queries/alarm-station.ts';
import type { AlarmWords } from '../../queries/alarm-words.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { staysIn } from '../../queries/probe-places.ts';
import { type SettingsInForce, settingsInForce } from '../../queries/settings-in-force.ts';
import { stationSeries } from '../../queries/station-series.ts';
import type { Alarm } from '../../../alerts/watch/life/alarm.ts';
import type { EvidenceExcursion, EvidencePlace } from '../../api/evidence.ts';
import type { ReaderSettings } from '../../../words/quantity.ts';
import type { CauseRecords } from './cause-record.ts';
import { evidenceFigures } from './evidence-figures.ts';
import type { EvidenceSpan } from './evidence-span.ts';
import { findBeyondRuns, boundsAt, limitPeriods } from './held-limits.ts';
import { evidenceProbes } from './evidence-probes.ts';
import { iso, isoOrNull } from '../../../wax/iso.ts';

/** Means of five minutes, or of an hour where the span is long; extremes are always of single readings. */
const FINE_MILLIS = 5 * MILLIS_PER_MINUTE;
const COARSE_MILLIS = 60 * MILLIS_PER_MINUTE;
const FINE_DAYS = 35;
const MOST_RUNS = 200;
const MOST_ALARMS = 5000;
/** An alarm that was raised longer before the span and is still on is left to the span in which it was raised. */
const ALARM_REACH_MILLIS = 30 * MILLIS_PER_DAY;

export interface EvidenceSources {
  readonly running: RunningLab;
  readonly alarmWords: AlarmWords;
  readonly causes: CauseRecords;
}

export interface GatheredEvidence {
  readonly settings: SettingsInForce;
  readonly places: readonly EvidencePlace[];
  readonly elsewhere: readonly EvidenceExcursion[];
}

const excursionOf = (
  { running, alarmWords, causes }: EvidenceSources,
  lab: Lab,
  alarm: Alarm,
  reader: ReaderSettings,
): EvidenceExcursion => {
  return {
    id: alarm.id,
    rule: alarm.rule,
    priority: alarm.priority,
    message: alarmWords(alarm, lab, reader).message,
    raisedAt: iso(alarm.raisedAt),
    clearedAt: isoOrNull(alarm.clearedAt),
    acts: running
      .alarmChanges(alarm.id)
      .flatMap(({ at, kind, by, reason }) => (by === null ? [] : [{ at: iso(at), kind, by, reason }])),
    notices: running.notices.outbox
      .ofAlarm(alarm.id)
      .filter(({ kind }) => kind !== 'change')
      .map(({ createdAt, endedAt, channel, person, address, state }) => ({
        at: iso(endedAt ?? createdAt),
        channel,
        to: person === null ? address : (lab.people.find(({ id }) => id === person)?.name ?? person),
        state,
      })),
    signed: [...causes.of(alarm.id)],
  };
};

const alarmsIn = (running: RunningLab, { from, to }: EvidenceSpan): readonly Alarm[] =>
  running
    .alarmsBetween(epochMillis(from - ALARM_REACH_MILLIS), to, MOST_ALARMS)
    .filter(
      ({ priority, raisedAt, clearedAt }) =>
        priority !== 'notice' && (raisedAt >= from || clearedAt === null || clearedAt > from),
    )
    .sort((left, right) => left.raisedAt - right.raisedAt);

const placeOf = async (
  running: RunningLab,
  station: Station,
  span: EvidenceSpan,
  settings: SettingsInForce,
  excursions: readonly EvidenceExcursion[],
): Promise<EvidencePlace> => {
  const { from, to, steps } = span;
  const fine = to - from <= FINE_DAYS * MILLIS_PER_DAY;
  const points = Math.ceil((to - from) / (fine ? FINE_MILLIS : COARSE_MILLIS)) + 2;
  const widthMillis = bucketPlan({ from, to, points })?.width ?? FINE_MILLIS;
  const buckets = await stationSeries(running, station, { from, to, points });
  const periods = settings.periodsOf(station.id);
  const bounds = boundsAt(periods);
  const measured = { buckets, widthMillis };
  const runs = findBeyondRuns(buckets, widthMillis, bounds, to);
  return {
    station: station.id,
    name: station.name,
    kind: station.kind,
    whole: evidenceFigures(measured, span, bounds),
    meanOfMinutes: widthMillis / MILLIS_PER_MINUTE,
    steps: steps.map((step) => evidenceFigures(measured, step, bounds)),
    limits: [...limitPeriods(periods)],
    beyond: runs.slice(0, MOST_RUNS),
    beyondLeftOut: Math.max(0, runs.length - MOST_RUNS),
    excursions: [...excursions],
    probes: staysIn(running, station.id, span).flatMap((stay) =>
      evidenceProbes(stay, running.repository.history.probeVersions(stay.probe)),
    ),
  };
};

/** @param station null: every station that there was at any time in the span, also one that was removed in it */
export const gatherEvidence = async (
  sources: EvidenceSources,
  span: EvidenceSpan,
  station: string | null,
  reader: ReaderSettings,
): Promise<GatheredEvidence> => {
  const { running } = sources;
  const settings = settingsInForce(running, span.from, span.to);
  const alarms = alarmsIn(running, span);
  const stations = running.repository.history.stationsIn(span.from, span.to);
  // Alarms are worded by the names of their own time, also of a station that was removed in the span.
  const lab = { ...settings.lab, stations };
  const excursionsAt = (place: string | null): readonly EvidenceExcursion[] =>
    alarms
      .filter((alarm) => alarmStation(lab, alarm) === place)
      .map((alarm) => excursionOf(sources, lab, alarm, reader));
  const places: EvidencePlace[] = [];
  // One after the other: a year of every place at once would hold up the readers of the wall.
  for (const place of stations)
    if (station === null || place.id === station)
      places.push(await placeOf(running, place, span, settings, excursionsAt(place.id)));
  return { settings, places, elsewhere: station === null ? excursionsAt(null) : [] };
};
