// The record of a span on paper, A4 or Letter, tagged: the same figures as on the screen and in the table.

import type { EvidenceExcursion, EvidenceReport } from '../../api/evidence.ts';
import { DIM, openPaper, type Paper, type PaperSize } from '../night/pdf-paper.ts';
import { signLines } from '../night/sign-lines.ts';
import type { SheetWords } from '../night/sheet-words.ts';
import { changesTable } from './change-table.ts';
import {
  beyondTable,
  limitsTable,
  probeTable,
  type RecordTable,
  readingsTable,
  tableOf,
} from './place-tables.ts';

type Drawn = Pick<RecordTable, 'columns' | 'rows'> & Partial<RecordTable>;

/** Said first is what is in place of the table; above one that is there it is a warning, in bold. */
const drawTable = (paper: Paper, { first, columns, rows, note, more }: Drawn, { say }: SheetWords) => {
  if (first != null) paper.line(say(first), rows.length > 0);
  if (rows.length > 0)
    paper.table(
      columns,
      rows.map(({ cells }) => cells.map((text, index) => ({ text, bold: index === 0 }))),
    );
  if (note !== undefined) paper.line(note, false, DIM);
  if (more !== undefined) paper.line(more);
};

const excursionTable = (paper: Paper, excursions: readonly EvidenceExcursion[], words: SheetWords): void => {
  const { say, moment, word } = words;
  const table = tableOf(words, excursions, ({ id }) => id, [
    ['evidence.alarm', 24, ({ message }) => message],
    ['evidence.from', 11, ({ raisedAt }) => moment(raisedAt)],
    [
      'evidence.to',
      11,
      ({ clearedAt }) => (clearedAt === null ? say('evidence.still-on') : moment(clearedAt)),
    ],
    [
      'evidence.notified',
      14,
      ({ notices }) =>
        notices
          .map(
            ({ at, to, channel, state }) =>
              `${to}: ${word('outbox-channel', channel)}, ${word('outbox-state', state)}, ${moment(at)}`,
          )
          .join('; ') || say('evidence.nobody-notified'),
    ],
    [
      'evidence.acts',
      16,
      ({ acts }) =>
        acts
          .map(
            ({ at, by, kind, reason }) =>
              `${by}: ${word('change', kind)}, ${moment(at)}${reason === null ? '' : ` (${reason})`}`,
          )
          .join('; ') || say('evidence.nobody-acted'),
    ],
    ['evidence.cause', 17, ({ signed }) => signed.at(-1)?.cause ?? say('evidence.unsigned')],
    [
      'evidence.correction',
      17,
      ({ signed }) => {
        const last = signed.at(-1);
        if (last === undefined) return say('evidence.unsigned');
        return `${last.correction} (${say('evidence.signed-by', { by: last.by, signed_at: last.at })})`;
      },
    ],
  ]);
  drawTable(paper, { ...table, first: excursions.length === 0 ? 'evidence.excursions-none' : null }, words);
  for (const { signed } of excursions)
    for (const { at, ...earlier } of signed.slice(0, -1))
      paper.line(say('evidence.superseded', { ...earlier, signed_at: at }), false, DIM);
};

const trainingTable = (paper: Paper, { training }: EvidenceReport, words: SheetWords): void => {
  const { say } = words;
  paper.heading(say('evidence.training'));
  const table = tableOf(words, training, ({ number }) => String(number), [
    ['training.person', 20, ({ person }) => person],
    [
      'training.procedure',
      40,
      ({ procedure, edition, withdrawn }) =>
        [
          edition === null ? procedure : `${procedure}, ${edition}`,
          ...(withdrawn === null ? [] : [say('training.withdrawn', { ...withdrawn })]),
        ].join('; '),
    ],
    ['training.day', 16, ({ day }) => words.day(`${day}T12:00:00Z`)],
    ['training.shown-by', 24, ({ shownBy }) => shownBy],
  ]);
  drawTable(paper, { ...table, first: training.length === 0 ? 'evidence.training-none' : null }, words);
};

export const evidencePdf = async (
  report: EvidenceReport,
  words: SheetWords,
  size: PaperSize,
): Promise<Buffer> => {
  const { say, day } = words;
  const lastDay = day(Date.parse(report.to) - 1);
  const title = say('evidence.heading', { from: day(report.from), to: lastDay });
  const about = { title: `${title}, ${report.lab}`, author: report.lab, language: words.reader.language };
  const paper = await openPaper(size, about);
  paper.title(title, report.lab);
  const made = { made_at: report.madeAt, zone: report.timeZone, version: report.version };
  paper.line(say('evidence.made', made), false, DIM);
  if (Date.parse(report.to) >= Date.parse(report.madeAt))
    paper.line(say('evidence.not-over', { to_at: report.to }), true);
  paper.line(
    report.settingsSince === null
      ? say('evidence.no-settings')
      : say('evidence.settings-since', { since_at: report.settingsSince }),
    false,
    DIM,
  );
  paper.line(say('evidence.informs'), false, DIM);
  if (report.places.length === 0) paper.line(say('evidence.no-places'), true);
  for (const place of report.places) {
    paper.heading(`${place.name} (${words.word('kind', place.kind)})`);
    const drawPart = (table: RecordTable): void => {
      paper.subheading(say(table.heading));
      drawTable(paper, table, words);
    };
    drawPart(readingsTable(place, report.step, words));
    drawPart(limitsTable(place, words));
    drawPart(beyondTable(place, words));
    paper.subheading(say('evidence.excursions'));
    excursionTable(paper, place.excursions, words);
    drawPart(probeTable(place, words));
  }
  if (report.elsewhere.length > 0) {
    paper.heading(say('evidence.elsewhere'));
    excursionTable(paper, report.elsewhere, words);
  }
  paper.heading(say('evidence.changes'));
  drawTable(paper, changesTable(report, words), words);
  trainingTable(paper, report, words);
  paper.heading(words.text('signed'));
  paper.line(say('evidence.digest', { digest: report.figures }), false, DIM);
  if (report.auditHead !== null)
    paper.line(say('evidence.audit-head', { hash: report.auditHead }), false, DIM);
  signLines(paper, words);
  return paper.finish(
    (page, pages) =>
      `${report.lab} · ${title} · ${words.text('page', { page: String(page), pages: String(pages) })}`,
  );
};
