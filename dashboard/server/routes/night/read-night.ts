// The night sheet: as figures, as a page to print, as a table.

import { Type } from 'typebox';
import { CsvSeparators } from '../../../api/csv-separators.ts';
import { NightSheet } from '../../../api/night.ts';
import { nightCsv } from '../../../reports/night/sheet-csv.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { fileAnswers } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { Paper, paperFor } from '../common/paper.ts';
import { NightQuery, nightRequest, sheetMaker } from './night-request.ts';

export const readNight = (app: App, context: ServerContext): void => {
  const { sheet } = sheetMaker(context);
  app.get(
    '/api/night',
    describeRoute('read', 'night', 'What one night did to the patterns', {
      description:
        'From closing to opening in the lab’s zone, weekends and holidays whole. Verdicts advise; docs/night-sheet.md explains their rules.',
      querystring: Type.Object(NightQuery),
      response: { 200: NightSheet },
    }),
    (request) => sheet(request, nightRequest(context, request, request.query)),
  );
  app.get(
    '/api/night.pdf',
    describeRoute('read', 'night', 'The night sheet as a page to print', {
      querystring: Type.Object({ ...NightQuery, paper: Paper }),
      response: fileAnswers('application/pdf', 'One page where it fits'),
    }),
    async (request, reply) => {
      const night = nightRequest(context, request, request.query);
      const made = await sheet(request, night);
      const { reader, timeZone } = night.words;
      const size = request.query.paper ?? 'a4';
      const order = { kind: 'night', sheet: made, reader, timeZone, size } as const;
      const pdf = await paperFor(reply.raw, context.makePaper, order);
      if (pdf === null) return reply;
      return reply
        .type('application/pdf')
        .header('content-disposition', `inline; filename="night-${made.date}.pdf"`)
        .send(pdf);
    },
  );
  app.get(
    '/api/night.csv',
    describeRoute('read', 'night', 'The night sheet as a table', {
      description: 'RFC 4180, UTF-8, degrees Celsius.',
      querystring: Type.Object({ ...NightQuery, separators: Type.Optional(CsvSeparators) }),
      response: fileAnswers('text/csv', 'One line for each place, pattern, heater, alarm and note'),
    }),
    async (request, reply) => {
      const made = await sheet(request, nightRequest(context, request, request.query));
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="night-${made.date}.csv"`)
        .send(nightCsv(made, request.query.separators ?? 'comma'));
    },
  );
};
