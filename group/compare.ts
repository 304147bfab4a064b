// The last seven days of every lab in figures per station and day, so that a large lab, or one that was switched on
// yesterday, is not worse for that.

import type pg from 'pg';

/** Of one lab; figures that cannot be counted are null. */
export interface LabFigures {
  readonly site: string;
  readonly name: string;
  readonly days: number;
  readonly alarmsPerStationDay: number | null;
  readonly answerMinutes: number | null;
  readonly neverAnswered: number;
  readonly raised: number;
  readonly remade: number;
  readonly ended: number;
  /** Chattering or over within a minute, per station and whole day. */
  readonly nuisancePerStationDay: number | null;
  /** Mean of each day's largest swing of each storage place. */
  readonly swingCelsius: number | null;
  /** Above the storage limit, of the time that was measured there. */
  readonly outsideShare: number | null;
  /** Equivalent hours per pot and day. */
  readonly doseHoursPerDay: number | null;
  /** The charge that is nearest to its allowance now. */
  readonly mostDoseShare: number | null;
}

/** As PostgreSQL counts them; the rest of the figures follows from these. */
type FiguresRow = Omit<LabFigures, 'days' | 'alarmsPerStationDay' | 'neverAnswered'> & {
  readonly minutes: number;
  readonly stations: number;
  readonly answered: number;
};

const MINUTES_PER_DAY = 1440;
/** Below an hour of reports a rate per day means nothing. */
const FEWEST_MINUTES = 60;
const SPAN_MILLIS = 7 * 86_400_000;

/** A day in which a place was hardly measured proves nothing about its swings. */
const FEWEST_MEASURED_MINUTES = 720;

const FIGURES = `WITH reported AS (
   SELECT site, count(*)::int AS minutes FROM lab_minute WHERE at >= $1 GROUP BY site
 ), life AS (
   SELECT site, alarm_id, min(at) FILTER (WHERE change = 'raised') AS raised_at,
     min(at) FILTER (WHERE change = 'acknowledged') AS answered_at
   FROM alarm_change WHERE at >= $1 AND alarm ->> 'tense' = 'now' AND NOT (alarm ->> 'suppressed')::boolean
   GROUP BY site, alarm_id
 ), alarms AS (
   SELECT site, count(*)::int AS raised, count(answered_at)::int AS answered,
     percentile_cont(0.5) WITHIN GROUP (ORDER BY extract(epoch FROM answered_at - raised_at) / 60)
       FILTER (WHERE answered_at IS NOT NULL) AS answer_minutes
   FROM life WHERE raised_at IS NOT NULL GROUP BY site
 ), patterns AS (
   SELECT site, count(*)::int AS ended, count(*) FILTER (WHERE body #>> '{fate,kind}' = 'remade')::int AS remade
   FROM lab_record WHERE kind = 'pattern' AND (body #>> '{fate,at}')::timestamptz >= $1 GROUP BY site
 ), recent_day AS (
   SELECT site, body FROM lab_day WHERE date >= $1::date
 ), nuisances AS (
   SELECT site, sum((body #>> '{alarms,nuisance}')::float8) / nullif(sum((body ->> 'stations')::float8), 0) AS nuisance
   FROM recent_day GROUP BY site
 ), places AS (
   SELECT site, avg((place ->> 'largest_swing_celsius')::float8)
       FILTER (WHERE (place ->> 'measured_minutes')::float8 >= ${FEWEST_MEASURED_MINUTES}) AS swing,
     sum((place ->> 'outside_minutes')::float8) / nullif(sum((place ->> 'measured_minutes')::float8), 0) AS outside
   FROM recent_day, jsonb_array_elements(body -> 'places') place GROUP BY site
 ), pots AS (
   SELECT site, sum((heater ->> 'dose_hours')::float8) * ${MINUTES_PER_DAY}
       / nullif(sum((heater ->> 'measured_minutes')::float8), 0) AS dose_hours
   FROM recent_day, jsonb_array_elements(body -> 'heaters') heater
   WHERE heater ->> 'dose_hours' IS NOT NULL GROUP BY site
 )
 SELECT lab.site, left(standing ->> 'name', 200) AS name, jsonb_array_length(standing -> 'stations') AS stations,
   coalesce(minutes, 0) AS minutes, coalesce(raised, 0) AS raised, coalesce(answered, 0) AS answered,
   answer_minutes AS "answerMinutes", coalesce(remade, 0) AS remade, coalesce(ended, 0) AS ended,
   nuisance AS "nuisancePerStationDay", swing AS "swingCelsius", outside AS "outsideShare",
   dose_hours AS "doseHoursPerDay",
   (SELECT max((station ->> 'dose_share')::float8) FROM jsonb_array_elements(standing -> 'stations') station)
     AS "mostDoseShare"
 FROM lab LEFT JOIN reported USING (site) LEFT JOIN alarms USING (site) LEFT JOIN patterns USING (site)
   LEFT JOIN nuisances USING (site) LEFT JOIN places USING (site) LEFT JOIN pots USING (site)
 ORDER BY name, site`;

export async function labFigures(pool: pg.Pool, now: number): Promise<readonly LabFigures[]> {
  const { rows } = await pool.query<FiguresRow>(FIGURES, [new Date(now - SPAN_MILLIS)]);
  return rows.map(({ minutes, stations, answered, ...counted }) => {
    const days = minutes / MINUTES_PER_DAY;
    const { raised } = counted;
    return {
      ...counted,
      days,
      alarmsPerStationDay: minutes < FEWEST_MINUTES || stations === 0 ? null : raised / (stations * days),
      neverAnswered: raised - answered,
    };
  });
}
