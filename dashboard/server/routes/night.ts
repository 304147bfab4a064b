// The night sheet: as figures, as a page to print, as a table; notes on it and signatures under it.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { StoreAway } from '../../../collector/store/store.ts';
import { NightDate, NightSheet, NoteBody, SignBody } from '../../api/night.ts';
import { makeSheet } from '../../reports/night/make-sheet.ts';
import { latestNight, nightOf, type NightSpan } from '../../reports/night/night-span.ts';
import { nightCsv } from '../../reports/night/sheet-csv.ts';
import { nightPdf } from '../../reports/night/sheet-pdf.ts';
import { openSheetRecord } from '../../reports/night/sheet-record.ts';
import { type Speaker, speaker } from '../../reports/words/night-words.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { HttpProblem } from '../base/problem.ts';
import { AskedReader, readerOf, type ReaderQuery } from '../sign-in/reader.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorName } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { answers, fileAnswers } from './answers.ts';

const NightQuery = {
  date: Type.Optional({ ...NightDate, description: 'Morning of the night, YYYY-MM-DD; absent: last night' }),
  ...AskedReader,
};
const Paper = Type.Optional(Type.Enum(['a4', 'letter'], { default: 'a4' }));

const speakerFor = (running: RunningLab, request: FastifyRequest, asked: ReaderQuery): Speaker =>
  speaker(readerOf(request, running, asked), running.lab().site.timeZone);

const isDay = (date: string): boolean => {
  const at = Date.parse(`${date}T00:00:00Z`);
  return !Number.isNaN(at) && new Date(at).toISOString().startsWith(date);
};

/** The night that was asked for; one that has not begun has no sheet. */
const spanFor = (running: RunningLab, date: string | undefined, pointer: string): NightSpan => {
  const { site } = running.lab();
  if (date === undefined) return latestNight(site, running.now());
  if (!isDay(date))
    throw new HttpProblem('wrong-request', `"${date}" is no day; write it as 2030-01-31.`, {
      errors: [{ pointer, detail: 'is no day' }],
    });
  const span = nightOf(site, date);
  if (span.from >= running.now())
    throw new HttpProblem('night-ahead', 'This night has not begun; ask for one that has.');
  return span;
};

/** A question to a store that does not answer becomes a problem that says to try again. */
export const orStoreAway = async <T>(asking: Promise<T>): Promise<T> =>
  asking.catch((cause: unknown) => {
    if (!(cause instanceof StoreAway)) throw cause;
    throw new HttpProblem('store-away', 'Try again shortly; measuring and alarms go on meanwhile.', {
      headers: { 'retry-after': '5' },
    });
  });

export const nightRoutes = (app: App, context: ServerContext): void => {
  const { running, options, audit } = context;
  const record = openSheetRecord(options.database);
  const tags = ['night'];
  const read = { config: { needs: 'read' } } as const;
  const maker = { running, alarmWords: options.alarmWords, record };
  const sheet = (span: NightSpan, speaks: Speaker) => orStoreAway(makeSheet(maker, span, speaks));

  app.get(
    '/api/night',
    {
      ...read,
      schema: {
        tags,
        summary: 'What one night did to the patterns',
        description:
          'From closing to opening in the lab’s zone, weekends and holidays whole. Verdicts advise; docs/night-sheet.md tells their rules.',
        querystring: Type.Object(NightQuery),
        response: answers(NightSheet),
      },
    },
    (request) =>
      sheet(
        spanFor(running, request.query.date, '/querystring/date'),
        speakerFor(running, request, request.query),
      ),
  );
  app.get(
    '/api/night.pdf',
    {
      ...read,
      schema: {
        tags,
        summary: 'The night sheet as a page to print',
        querystring: Type.Object({ ...NightQuery, paper: Paper }),
        response: fileAnswers('application/pdf', 'One page where it fits'),
      },
    },
    async (request, reply) => {
      const speaks = speakerFor(running, request, request.query);
      const made = await sheet(spanFor(running, request.query.date, '/querystring/date'), speaks);
      const pdf = await nightPdf(made, speaks, request.query.paper ?? 'a4');
      return reply
        .type('application/pdf')
        .header('content-disposition', `inline; filename="night-${made.date}.pdf"`)
        .send(pdf);
    },
  );
  app.get(
    '/api/night.csv',
    {
      ...read,
      schema: {
        tags,
        summary: 'The night sheet as a table',
        description: 'RFC 4180, UTF-8, degrees Celsius.',
        querystring: Type.Object(NightQuery),
        response: fileAnswers('text/csv', 'One line for each place, pattern and heater'),
      },
    },
    async (request, reply) => {
      const made = await sheet(
        spanFor(running, request.query.date, '/querystring/date'),
        speakerFor(running, request, request.query),
      );
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="night-${made.date}.csv"`)
        .send(nightCsv(made));
    },
  );

  const config = { needs: 'tend-patterns' } as const;
  const params = Type.Object({ date: NightDate });
  app.post(
    '/api/night/:date/note',
    {
      config,
      schema: {
        tags,
        summary: 'Write a note on the sheet of a night',
        params,
        body: NoteBody,
        querystring: Type.Object(AskedReader),
        response: answers(NightSheet),
      },
    },
    async (request) => {
      const span = spanFor(running, request.params.date, '/params/date');
      const text = request.body.text.trim();
      options.database.transaction(() => {
        record.note(span.date, running.now(), actorName(actorOf(request)), text);
        audited(audit, request, {
          action: 'night-noted',
          entity: 'night',
          entityId: span.date,
          after: { text },
        });
      });
      return sheet(span, speakerFor(running, request, request.query));
    },
  );
  app.post(
    '/api/night/:date/sign',
    {
      config,
      schema: {
        tags,
        summary: 'Sign the sheet of a night',
        description:
          'Names the digest of the figures that were read; if they have changed since, nothing is signed.',
        params,
        body: SignBody,
        querystring: Type.Object(AskedReader),
        response: answers(NightSheet),
      },
    },
    async (request) => {
      const span = spanFor(running, request.params.date, '/params/date');
      const speaks = speakerFor(running, request, request.query);
      const { figures, isOver, signatures } = await sheet(span, speaks);
      const by = actorName(actorOf(request));
      if (!isOver)
        throw new HttpProblem('night-not-over', 'The night lasts still; sign after the lab has opened.');
      if (figures !== request.body.figures)
        throw new HttpProblem(
          'sheet-changed',
          'The figures have changed since; read the sheet again, then sign.',
        );
      if (signatures.some((one) => one.by === by && one.holds))
        throw new HttpProblem('already-signed', `${by} has signed these figures already.`);
      options.database.transaction(() => {
        record.sign(span.date, running.now(), by, figures);
        audited(audit, request, {
          action: 'night-signed',
          entity: 'night',
          entityId: span.date,
          after: { figures },
        });
      });
      return sheet(span, speaks);
    },
  );
};
