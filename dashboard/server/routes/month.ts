// The month sheet: as figures and as a table.

import { Temporal } from 'temporal-polyfill';
import { Type } from 'typebox';
import { alarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import { stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { Month, MonthSheet } from '../../api/month.ts';
import { stationNight } from '../../reports/night/gather-night.ts';
import { type MonthInputs, monthSheet } from '../../reports/month/month-sheet.ts';
import { localDate, nightsOfMonth } from '../../reports/night/night-span.ts';
import { csv } from '../../reports/night/sheet-csv.ts';
import type { App } from '../base/app.ts';
import { HttpProblem } from '../base/problem.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { answers, fileAnswers } from './answers.ts';
import { orStoreAway } from './night.ts';

const MOST_PATTERNS = 5000;
const MOST_CHANGES = 100_000;
/** Read before the month as well, so that what stood at its start is known. */
const BEFORE_MILLIS = 2 * MILLIS_PER_DAY;
const COLUMNS = [
  'night',
  'place',
  'verdict',
  'min_celsius',
  'max_celsius',
  'mean_kinetic_celsius',
  'swings',
  'largest_swing_celsius',
  'out_of_band_minutes',
  'gap_minutes',
];

const gatherMonth = async (running: RunningLab, month: string): Promise<MonthInputs> => {
  const lab = running.lab();
  const { site } = lab;
  const now = running.now();
  const first = Temporal.PlainYearMonth.from(month).toPlainDate({ day: 1 });
  const start = (date: Temporal.PlainDate): EpochMillis =>
    epochMillis(date.toZonedDateTime({ timeZone: site.timeZone }).epochMilliseconds);
  const [from, to] = [start(first), start(first.add({ months: 1 }))];
  if (from >= now) throw new HttpProblem('night-ahead', 'This month has not begun; ask for one that has.');
  const counted = epochMillis(Math.min(to, now));
  const spans = nightsOfMonth(site, month, now);
  const places: MonthInputs['places'][number][] = [];
  for (const station of lab.stations.filter(({ kind }) => stores(kind))) {
    const nights = [];
    // One after the other: a month of nights at once would hold up the readers of the wall.
    for (const span of spans) {
      const night = { from: span.from, to: epochMillis(Math.min(span.opens, now)) };
      nights.push({ span, measured: await stationNight(running, station, night) });
    }
    places.push({ station: station.id, name: station.name, nights });
  }
  return {
    month,
    lab: site.name,
    timeZone: site.timeZone,
    now,
    to,
    places,
    ended: running.repository.allPatterns(MOST_PATTERNS).filter(({ fate }) => {
      const at = fate === null ? Number.NaN : Date.parse(fate.at);
      return at >= from && at < to;
    }),
    quality: alarmQuality({
      from,
      to: counted,
      site,
      changes: running.alarmChangesBetween(epochMillis(from - BEFORE_MILLIS), counted, MOST_CHANGES),
      open: running.openAlarms(),
    }),
    placeName: (subject) => lab.stations.find(({ id }) => id === subject)?.name ?? subject,
  };
};

export const monthRoutes = (app: App, { running }: ServerContext): void => {
  const querystring = Type.Object({
    month: Type.Optional({ ...Month, description: 'YYYY-MM; absent: this month' }),
  });
  const sheet = async (asked: string | undefined): Promise<MonthSheet> => {
    const month = asked ?? localDate(running.lab().site, running.now()).slice(0, 7);
    return monthSheet(await orStoreAway(gatherMonth(running, month)));
  };
  app.get(
    '/api/month',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['night'],
        summary: 'How storage did night by night, what was remade, and the alarms',
        querystring,
        response: answers(MonthSheet),
      },
    },
    (request) => sheet(request.query.month),
  );
  app.get(
    '/api/month.csv',
    {
      config: { needs: 'read' },
      schema: {
        tags: ['night'],
        summary: 'The nights of a month as a table',
        querystring,
        response: fileAnswers('text/csv', 'One line for each night and place'),
      },
    },
    async (request, reply) => {
      const { month, places } = await sheet(request.query.month);
      const rows = places.flatMap(({ station, nights }) =>
        nights.map((night) => ({
          night: night.date,
          place: station,
          verdict: night.verdict,
          min_celsius: night.minCelsius,
          max_celsius: night.maxCelsius,
          mean_kinetic_celsius: night.meanKineticCelsius,
          swings: night.swings,
          largest_swing_celsius: night.largestSwingCelsius,
          out_of_band_minutes: night.minutesOutOfBand,
          gap_minutes: night.gapMinutes,
        })),
      );
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="month-${month}.csv"`)
        .send(csv(COLUMNS, rows));
    },
  );
};
