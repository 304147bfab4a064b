// A recall across labs: which pots and patterns hold the wax of a lot, by what each lab has reported.

import type pg from 'pg';
import type { ChargeMessage, PatternMessage } from '../lab/group/group-message.ts';
import { lotsNamed } from '../lab/patterns/recall.ts';

export interface NamedLot {
  readonly maker: string;
  readonly lot: string;
}

interface HeldAt {
  readonly site: string;
  readonly labName: string;
  readonly timeZone: string;
  /** Null: that station is no longer in the lab, or the record names none. */
  readonly stationName: string | null;
}

export interface RecalledRecords {
  /** Those that the text names; none: nobody has reported such a lot. */
  readonly lots: readonly NamedLot[];
  /** Those in pots first, then the newest. */
  readonly charges: readonly (HeldAt & { readonly charge: ChargeMessage })[];
  /** Waiting ones first, then the newest. */
  readonly patterns: readonly (HeldAt & { readonly pattern: PatternMessage })[];
  /** More were found than are shown. */
  readonly isCut: boolean;
}

/** More than anybody reads on one page. */
const MOST_RECORDS = 2000;

const LOTS = `SELECT DISTINCT lot ->> 'maker' AS maker, lot ->> 'lot' AS lot
  FROM lab_record, jsonb_array_elements(coalesce(body -> 'lots', '[]')
    || CASE WHEN body -> 'lot' ? 'lot' THEN jsonb_build_array(body -> 'lot') ELSE '[]' END) lot
  WHERE $1::text IS NULL OR site = $1`;

const HOLDING = `SELECT record.site, record.kind, record.body, left(lab.standing ->> 'name', 200) AS lab_name,
    lab.standing ->> 'time_zone' AS time_zone,
    (SELECT station ->> 'name' FROM jsonb_array_elements(lab.standing -> 'stations') station
     WHERE station ->> 'id' = record.body ->> 'station') AS station_name
  FROM lab_record record JOIN lab USING (site)
  WHERE ($1::text IS NULL OR record.site = $1) AND EXISTS (
    SELECT FROM jsonb_array_elements($2::jsonb) lot
    WHERE record.body -> 'lots' @> jsonb_build_array(lot) OR record.body -> 'lot' = lot)
  ORDER BY coalesce(record.body ->> 'ended_at', record.body #>> '{fate,at}') IS NOT NULL,
    coalesce(record.body ->> 'started_at', record.body ->> 'made_at') DESC, record.id
  LIMIT ${MOST_RECORDS + 1}`;

interface HoldingRow {
  readonly site: string;
  readonly kind: 'charge' | 'pattern';
  readonly body: ChargeMessage | PatternMessage;
  readonly lab_name: string;
  readonly time_zone: string;
  readonly station_name: string | null;
}

/** @param site of the one lab that is looked at; null: of all */
export async function recallAcross(
  pool: pg.Pool,
  text: string,
  site: string | null,
): Promise<RecalledRecords> {
  const { rows: reported } = await pool.query<NamedLot>(LOTS, [site]);
  const lots = lotsNamed(reported, text);
  if (lots.length === 0) return { lots, charges: [], patterns: [], isCut: false };
  const asked = lots.map(({ maker, lot }) => ({ maker, lot }));
  const { rows } = await pool.query<HoldingRow>(HOLDING, [site, JSON.stringify(asked)]);
  const found = rows
    .slice(0, MOST_RECORDS)
    .map(({ lab_name, time_zone, station_name, ...row }) => ({
      ...row,
      labName: lab_name,
      timeZone: time_zone,
      stationName: station_name,
    }));
  return {
    lots,
    charges: found.flatMap(({ kind, body, ...at }) =>
      kind === 'charge' ? [{ ...at, charge: body as ChargeMessage }] : [],
    ),
    patterns: found.flatMap(({ kind, body, ...at }) =>
      kind === 'pattern' ? [{ ...at, pattern: body as PatternMessage }] : [],
    ),
    isCut: rows.length > MOST_RECORDS,
  };
}
