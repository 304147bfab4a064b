// The record of a span for a quality system: as figures, as tagged pages, as a table.

import { type Static, Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { EvidenceDay, EvidenceReport } from '../../../api/evidence.ts';
import { openCauseRecords } from '../../../reports/evidence/cause-record.ts';
import { evidenceCsv } from '../../../reports/evidence/evidence-csv.ts';
import { evidenceReport, JUDGING_ENTITIES } from '../../../reports/evidence/evidence-report.ts';
import {
  type EvidenceSpan,
  evidenceSpan,
  MOST_EVIDENCE_DAYS,
} from '../../../reports/evidence/evidence-span.ts';
import { gatherEvidence } from '../../../reports/evidence/gather-evidence.ts';
import { openTrainingRecords } from '../../../reports/evidence/training-record.ts';
import { digestOf } from '../../../reports/night/sheet-record.ts';
import { type SheetWords, sheetWords } from '../../../reports/night/sheet-words.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { AskedReader, readerOf } from '../../sign-in/reader.ts';
import { fileAnswers } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { inTurn } from '../common/in-turn.ts';
import { Paper, paperFor } from '../common/paper.ts';
import { isDay } from '../common/is-day.ts';
import { orStoreAway } from '../common/store-away.ts';
import { iso } from '../../../../wax/iso.ts';

const EvidenceQuery = Type.Object({
  from: { ...EvidenceDay, description: 'First day in the lab’s zone, YYYY-MM-DD' },
  to: { ...EvidenceDay, description: 'Last day, YYYY-MM-DD' },
  station: Type.Optional(
    Type.String({
      maxLength: 40,
      description: 'Id of a station, also of one that is gone since; absent: every one',
    }),
  ),
  ...AskedReader,
});
const PaperQuery = Type.Intersect([EvidenceQuery, Type.Object({ paper: Paper })]);
type Asked = Static<typeof EvidenceQuery>;

const spanAsked = ({ running }: ServerContext, { from, to }: Asked): EvidenceSpan => {
  if (!isDay(from)) throw fieldProblem('/querystring/from', 'field-not-a-day');
  if (!isDay(to)) throw fieldProblem('/querystring/to', 'field-not-a-day');
  if (to < from) throw fieldProblem('/querystring/to', 'field-span-reversed');
  const span = evidenceSpan(running.lab().site, from, to, running.now());
  if (span === 'too-long')
    throw fieldProblem('/querystring/to', 'field-span-too-long', { days: MOST_EVIDENCE_DAYS });
  if (span === 'ahead') throw fieldProblem('/querystring/from', 'field-in-the-future');
  return span;
};

export const readEvidence = (app: App, context: ServerContext): void => {
  const { running, options, audit } = context;
  const causes = openCauseRecords(options.database);
  const training = openTrainingRecords(options.database);
  const record = async (
    request: FastifyRequest,
    asked: Asked,
  ): Promise<{ readonly report: EvidenceReport; readonly words: SheetWords }> => {
    const span = spanAsked(context, asked);
    const reader = readerOf(request, running, asked);
    const station = asked.station ?? null;
    const sources = { running, alarmWords: options.alarmWords, causes };
    const gathered = await inTurn(context, request, () =>
      orStoreAway(gatherEvidence(sources, span, station, reader)),
    );
    const report = evidenceReport(
      {
        lab: gathered.settings.lab,
        version: running.version,
        madeAt: running.now(),
        settingsSince: running.repository.history.since(),
        span,
        station,
        gathered,
        changes: audit
          .between(span.from, span.to, JUDGING_ENTITIES)
          .map(({ hash: _, ...row }) => ({ ...row, at: iso(row.at) })),
        auditHead: audit.head(),
        training: training.all(),
      },
      digestOf,
    );
    return { report, words: sheetWords(reader, report.timeZone) };
  };
  const nameOf = ({ from, to }: Asked): string => `evidence-${from}-${to}`;
  app.get(
    '/api/evidence',
    describeRoute('read-audit', 'evidence', 'The record of a span for a quality system', {
      description:
        'Readings with extremes and mean kinetic temperature, the limits that held then, what went beyond them, ' +
        'alarms with cause and correction, probes as found and as left, who changed what, who was shown what. ' +
        'docs/evidence.md says what each standard asks and what answers it.',
      querystring: EvidenceQuery,
      response: { 200: EvidenceReport },
    }),
    async (request) => (await record(request, request.query)).report,
  );
  app.get(
    '/api/evidence.pdf',
    describeRoute('read-audit', 'evidence', 'The record of a span as tagged pages', {
      querystring: PaperQuery,
      response: fileAnswers('application/pdf', 'Tagged, in the language asked'),
    }),
    async (request, reply) => {
      const { report, words } = await record(request, request.query);
      const { reader, timeZone } = words;
      const size = request.query.paper ?? 'a4';
      const order = { kind: 'evidence', report, reader, timeZone, size } as const;
      const pdf = await paperFor(reply.raw, context.makePaper, order);
      if (pdf === null) return reply;
      return reply
        .type('application/pdf')
        .header('content-disposition', `inline; filename="${nameOf(request.query)}.pdf"`)
        .send(pdf);
    },
  );
  app.get(
    '/api/evidence.csv',
    describeRoute('read-audit', 'evidence', 'The record of a span as a table', {
      description: 'RFC 4180, UTF-8, degrees Celsius.',
      querystring: EvidenceQuery,
      response: fileAnswers('text/csv', 'One line for each figure, limit, alarm, act, probe and change'),
    }),
    async (request, reply) => {
      const { report } = await record(request, request.query);
      return reply
        .type('text/csv; charset=utf-8; header=present')
        .header('content-disposition', `attachment; filename="${nameOf(request.query)}.csv"`)
        .send(evidenceCsv(report));
    },
  );
};
