// Notes on the sheet of a night and signatures under it.

import { Type } from 'typebox';
import { NightDate, NightSheet, NoteBody, SignBody } from '../../../api/night.ts';
import { sheetWords } from '../../../reports/night/sheet-words.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { AskedReader, readerOf } from '../../sign-in/reader.ts';
import { describeRoute } from '../common/describe-route.ts';
import { nightAsked, sheetMaker } from './night-request.ts';

const params = Type.Object({ date: NightDate });
const POINTER = '/params/date';

export const noteOnNight = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { record, sheet } = sheetMaker(context);
  app.post(
    '/api/night/:date/note',
    describeRoute('tend-patterns', 'night', 'Write a note on the sheet of a night', {
      params,
      body: NoteBody,
      querystring: Type.Object(AskedReader),
      response: { 200: NightSheet },
    }),
    async (request) => {
      const span = nightAsked(running, request.params.date, POINTER);
      const text = request.body.text.trim();
      saveAudited(context, request, () => record.note(span.date, running.now(), authorOf(request), text), {
        action: 'night-noted',
        subject: ['night', span.date],
        after: { text },
      });
      const words = sheetWords(readerOf(request, running, request.query), running.lab().site.timeZone);
      return sheet(request, { span, words });
    },
  );
};

export const signNight = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { record, sheet } = sheetMaker(context);
  app.post(
    '/api/night/:date/sign',
    describeRoute('tend-patterns', 'night', 'Sign the sheet of a night', {
      description:
        'Names the digest of the figures that were read; if they have changed since, nothing is signed.',
      params,
      body: SignBody,
      querystring: Type.Object(AskedReader),
      response: { 200: NightSheet },
    }),
    async (request) => {
      const span = nightAsked(running, request.params.date, POINTER);
      const words = sheetWords(readerOf(request, running, request.query), running.lab().site.timeZone);
      const { figures, isOver, signatures } = await sheet(request, { span, words });
      const by = authorOf(request);
      if (!isOver) throw new HttpProblem('night-not-over');
      if (figures !== request.body.figures) throw new HttpProblem('sheet-changed');
      if (signatures.some((signature) => signature.by === by && signature.holds))
        throw new HttpProblem('already-signed', { values: { name: by } });
      saveAudited(context, request, () => record.sign(span.date, running.now(), by, figures), {
        action: 'night-signed',
        subject: ['night', span.date],
        after: { figures },
      });
      return sheet(request, { span, words });
    },
  );
};
