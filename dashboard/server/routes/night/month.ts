// The month sheet: as figures and as a table.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { CsvSeparators } from '../../../api/csv-separators.ts';
import { Month, MonthSheet } from '../../../api/month.ts';
import { gatherMonth } from '../../../reports/month/gather-month.ts';
import { monthCsv } from '../../../reports/month/month-csv.ts';
import { monthSheet } from '../../../reports/month/month-sheet.ts';
import { localDate } from '../../../reports/night/night-span.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { fileAnswers } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { inTurn } from '../common/in-turn.ts';
import { orStoreAway } from '../common/store-away.ts';

const MonthQuery = { month: Type.Optional({ ...Month, description: 'YYYY-MM; absent: this month' }) };

export const monthRoutes = (app: App, context: ServerContext): void => {
  const { running } = context;
  const querystring = Type.Object(MonthQuery);
  const sheet = async (request: FastifyRequest, asked: string | undefined): Promise<MonthSheet> => {
    const month = asked ?? localDate(running.lab().site, running.now()).slice(0, 7);
    const inputs = await inTurn(context, request, () => orStoreAway(gatherMonth(running, month)));
    if (inputs === null) throw new HttpProblem('night-ahead');
    return monthSheet(inputs);
  };
  app.get(
    '/api/month',
    describeRoute('read', 'night', 'How storage did night by night, what was remade, and the alarms', {
      querystring,
      response: { 200: MonthSheet },
    }),
    (request) => sheet(request, request.query.month),
  );
  app.get(
    '/api/month.csv',
    describeRoute('read', 'night', 'The nights, heaters and remakes of a month as a table', {
      querystring: Type.Object({ ...MonthQuery, separators: Type.Optional(CsvSeparators) }),
      response: fileAnswers('text/csv', 'One line for each night of a place, each heater and each remake'),
    }),
    async (request, reply) => {
      const figures = await sheet(request, request.query.month);
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="month-${figures.month}.csv"`)
        .send(monthCsv(figures, request.query.separators ?? 'comma'));
    },
  );
};
