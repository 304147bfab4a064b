// Minutes of all labs as series in an InfluxDB server, for good and for whatever draws curves. PostgreSQL is the queue:
// a minute is marked when the server has it, so that nothing is missing after either was away. One copy of the process
// writes at a time, by an advisory lock; what is written twice is the same.

import { Point } from '@influxdata/influxdb-client';
import type pg from 'pg';
import { pause } from '../collector/pause.ts';
import { carryLines } from '../collector/store/carry-lines.ts';
import { openInfluxServer } from '../collector/store/influx-server.ts';
import type { MinuteMessage } from '../lab/group/group-message.ts';
import { type Connected, type LastingConnection, startLasting } from './lasting-connection.ts';
import { LOCK_SPACE, migrate, SERIES_KEY } from './tables.ts';
import { writeRefused } from './write.ts';

/** A thousand labs report as many a minute. */
const MINUTES_A_LOOK = 200;
const LOOK_MILLIS = 1000;
const RETRY_MILLIS = 5000;
/** The newest first: whoever looks sees the present, and a backlog follows. */
const DUE = `SELECT site, at, at::text AS at_text, journal_offset AS "offset", sent_at::text AS sent_at, probes
  FROM lab_minute WHERE NOT in_series ORDER BY at DESC LIMIT ${MINUTES_A_LOOK}`;
/** A minute that came anew meanwhile is still due. */
const MARK = `UPDATE lab_minute SET in_series = true
  FROM jsonb_to_recordset($1) AS done (site text, at timestamptz, "offset" bigint, sent_at timestamptz)
  WHERE lab_minute.site = done.site AND lab_minute.at = done.at AND journal_offset = done."offset"
    AND lab_minute.sent_at = done.sent_at`;

interface DueRow {
  readonly site: string;
  readonly at: Date;
  /** To the microsecond, which a Date is not. */
  readonly at_text: string;
  readonly sent_at: string;
  readonly offset: string;
  readonly probes: MinuteMessage['probes'];
}

interface SeriesLine {
  readonly site: string;
  readonly point: Point;
}

/** Figures of a minute in `wax_minute`, single readings in `wax_temperature` as a lab writes them. */
const seriesLines = ({ site, at, probes }: Pick<DueRow, 'site' | 'at' | 'probes'>): readonly SeriesLine[] =>
  probes.flatMap(({ probe, station, readings = [], ...minute }) => {
    const figures = new Point('wax_minute')
      .tag('site', site)
      .tag('station', station)
      .tag('probe', probe)
      .intField('count', minute.count)
      .intField('doubtful', minute.doubtful)
      .floatField('min_celsius', minute.min_celsius)
      .floatField('mean_celsius', minute.mean_celsius)
      .floatField('max_celsius', minute.max_celsius)
      .timestamp(at.getTime());
    const single = readings.map(([millis, celsius, quality]) => {
      const point = new Point('wax_temperature')
        .tag('site', site)
        .tag('probe', probe)
        .floatField('celsius', celsius)
        .timestamp(at.getTime() + millis);
      return quality === 'good' ? point : point.stringField('quality', quality);
    });
    return [figures, ...single].map((point) => ({ site, point }));
  });

/** @param url as of `--influx` */
export function startSeries(postgres: string, url: string, log: (line: string) => void): LastingConnection {
  const server = openInfluxServer({ url, site: 'group' });

  const writeDue = async (client: pg.Client): Promise<boolean> => {
    const { rows } = await client.query<DueRow>(DUE);
    if (rows.length === 0) return false;
    const refused = await carryLines(
      rows.flatMap(seriesLines),
      (lines) => server.writePoints(lines.map(({ point }) => point)),
      server.check,
    );
    await writeRefused(
      client,
      refused.map(({ line: { site, point }, reason }) => ({
        topic: `//${site}/minute`,
        reason: 'series' as const,
        detail: reason,
        sample: Buffer.from(String(point)),
      })),
    );
    const done = rows.map(({ site, at_text, offset, sent_at }) => ({ site, at: at_text, offset, sent_at }));
    await client.query(MARK, [JSON.stringify(done)]);
    return true;
  };

  const hold = async ({ client, over }: Connected): Promise<void> => {
    // Waiting for the lock has no end of its own.
    over.addEventListener('abort', () => void client.end().catch(() => {}), { once: true });
    await migrate(client);
    await client.query('SELECT pg_advisory_lock($1, $2)', [LOCK_SPACE, SERIES_KEY]);
    while (!over.aborted) if (!(await writeDue(client))) await pause(LOOK_MILLIS, over);
  };
  return startLasting({
    connection: { connectionString: postgres },
    retryMillis: RETRY_MILLIS,
    work: hold,
    onTrouble: (reason) => log(`Series: ${reason}`),
  });
}
