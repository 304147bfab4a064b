// What the screen of the group reads from PostgreSQL.

import type pg from 'pg';
import type { STATION_CONDITIONS } from '../alerts/watch/engine/station-status.ts';
import type { GroupAlarm, StandingMessage } from '../lab/group/group-message.ts';
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
  /** Of stations with an alarm. */
  readonly names: readonly { readonly id: string; readonly name: string }[] | null;
}

export async function reportedLabs(pool: pg.Pool): Promise<readonly ReportedLab[]> {
  const { rows } = await pool.query<LabRow>(
    `SELECT site, left(standing ->> 'name', 200) AS name, standing ->> 'time_zone' AS time_zone, taken_at,
       jsonb_array_length(standing -> 'stations') AS stations, standing -> 'alarms' AS alarms,
       (SELECT jsonb_agg(jsonb_build_object('id', station -> 'id', 'name', left(station ->> 'name', 200)))
        FROM jsonb_array_elements(standing -> 'stations') station
        WHERE standing -> 'alarms' @> jsonb_build_array(jsonb_build_object('subject', station -> 'id'))) AS names,
       (SELECT count(*)::int FROM jsonb_array_elements(standing -> 'stations') station
        WHERE NOT station ->> 'condition' = ANY ($1)) AS unwell
     FROM lab`,
    [CALM],
  );
  return rows.map(({ time_zone, taken_at, names, ...row }) => ({
    ...row,
    stationNames: new Map((names ?? []).map(({ id, name }) => [id, name])),
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
