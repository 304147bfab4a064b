// The month sheet: as figures and as a table.

import { Type } from 'typebox';
import { CsvSeparators } from '../../../api/csv-separators.ts';
import { Month, MonthSheet } from '../../../api/month.ts';
import { gatherMonth } from '../../../reports/month/gather-month.ts';
import { monthSheet } from '../../../reports/month/month-sheet.ts';
import { localDate } from '../../../reports/night/night-span.ts';
import { csv } from '../../../reports/night/sheet-csv.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { answers, fileAnswers } from '../common/answers.ts';
import { orStoreAway } from '../common/store-away.ts';

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

const MonthQuery = { month: Type.Optional({ ...Month, description: 'YYYY-MM; absent: this month' }) };

export const monthRoutes = (app: App, { running }: ServerContext): void => {
  const querystring = Type.Object(MonthQuery);
  const sheet = async (asked: string | undefined): Promise<MonthSheet> => {
    const month = asked ?? localDate(running.lab().site, running.now()).slice(0, 7);
    const inputs = await orStoreAway(gatherMonth(running, month));
    if (inputs === null) throw new HttpProblem('night-ahead');
    return monthSheet(inputs);
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
        querystring: Type.Object({ ...MonthQuery, separators: Type.Optional(CsvSeparators) }),
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
        .send(csv(COLUMNS, rows, request.query.separators ?? 'comma'));
    },
  );
};
