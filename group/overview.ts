// What the screen of the group asks of PostgreSQL.

import type pg from 'pg';
import type { STATION_CONDITIONS } from '../alerts/watch/engine/station-status.ts';
import type { GroupAlarm, StandingMessage } from '../lab/group-message.ts';
import type { ReportedLab } from './lab-need.ts';

const CALM = [
  'cold',
  'warming',
  'in-window',
  'steady',
  'measured',
] as const satisfies readonly (typeof STATION_CONDITIONS)[number][];

interface LabRow {
  readonly site: string;
  readonly name: string;
  readonly time_zone: string;
  readonly taken_at: Date;
  readonly stations: number;
  readonly unwell: number;
  readonly alarms: readonly GroupAlarm[];
}

export async function reportedLabs(pool: pg.Pool): Promise<readonly ReportedLab[]> {
  const { rows } = await pool.query<LabRow>(
    `SELECT site, left(standing ->> 'name', 200) AS name, standing ->> 'time_zone' AS time_zone, taken_at,
       jsonb_array_length(standing -> 'stations') AS stations, standing -> 'alarms' AS alarms,
       (SELECT count(*)::int FROM jsonb_array_elements(standing -> 'stations') station
        WHERE NOT station ->> 'condition' = ANY ($1)) AS unwell
     FROM lab`,
    [CALM],
  );
  return rows.map(({ time_zone, taken_at, ...row }) => ({
    ...row,
    timeZone: time_zone,
    reportedAt: taken_at.getTime(),
  }));
}

export interface StoredStanding {
  readonly standing: StandingMessage;
  readonly reportedAt: number;
}

export async function labStanding(pool: pg.Pool, site: string): Promise<StoredStanding | null> {
  const { rows } = await pool.query<{ standing: StandingMessage; taken_at: Date }>(
    'SELECT standing, taken_at FROM lab WHERE site = $1',
    [site],
  );
  const [row] = rows;
  return row === undefined ? null : { standing: row.standing, reportedAt: row.taken_at.getTime() };
}

/** The last seven days of one lab; figures that cannot be counted are null. */
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
  readonly mostDoseShare: number | null;
}

interface FiguresRow {
  readonly site: string;
  readonly name: string;
  readonly minutes: number;
  readonly stations: number;
  readonly raised: number;
  readonly answered: number;
  readonly answer_minutes: number | null;
  readonly remade: number;
  readonly ended: number;
  readonly dose: number | null;
}

const MINUTES_PER_DAY = 1440;
/** Below an hour of reports a rate per day says nothing. */
const FEWEST_MINUTES = 60;

export async function labFigures(pool: pg.Pool, now: number): Promise<readonly LabFigures[]> {
  const { rows } = await pool.query<FiguresRow>(
    `WITH reported AS (
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
     )
     SELECT lab.site, left(standing ->> 'name', 200) AS name, jsonb_array_length(standing -> 'stations') AS stations,
       coalesce(minutes, 0) AS minutes, coalesce(raised, 0) AS raised, coalesce(answered, 0) AS answered,
       answer_minutes, coalesce(remade, 0) AS remade, coalesce(ended, 0) AS ended,
       (SELECT max((station ->> 'dose_share')::float8) FROM jsonb_array_elements(standing -> 'stations') station) AS dose
     FROM lab LEFT JOIN reported USING (site) LEFT JOIN alarms USING (site) LEFT JOIN patterns USING (site)
     ORDER BY name, site`,
    [new Date(now - 7 * 86_400_000)],
  );
  return rows.map(({ site, name, minutes, stations, raised, answered, ended, remade, ...row }) => {
    const days = minutes / MINUTES_PER_DAY;
    return {
      ...{ site, name, days, raised, ended, remade },
      alarmsPerStationDay: minutes < FEWEST_MINUTES || stations === 0 ? null : raised / (stations * days),
      answerMinutes: row.answer_minutes,
      neverAnswered: raised - answered,
      mostDoseShare: row.dose,
    };
  });
}
