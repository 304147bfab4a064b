// The record of a span on paper, A4 or Letter, tagged: the same figures as on the screen and in the table.

import type { EvidenceExcursion, EvidenceReport } from '../../api/evidence.ts';
import { type Cell, DIM, openPaper, type Paper, type PaperSize } from '../night/pdf-paper.ts';
import { signLines } from '../night/sign-lines.ts';
import type { SheetWords } from '../night/sheet-words.ts';
import { changesTable } from './change-table.ts';
import { beyondTable, limitsTable, probeTable, type RecordTable, readingsTable } from './place-tables.ts';

/** The first in bold. */
const cellsOf = (...texts: readonly string[]): readonly Cell[] =>
  texts.map((text, index) => ({ text, bold: index === 0 }));

/** Said first is what stands in place of the table; above one that is there it is a warning, in bold. */
const drawTable = (paper: Paper, { first, columns, rows, note, more }: RecordTable, { say }: SheetWords) => {
  if (first !== null) paper.line(say(first), rows.length > 0);
  if (rows.length > 0)
    paper.table(
      columns,
      rows.map(({ cells }) => cellsOf(...cells)),
    );
  if (note !== undefined) paper.line(note, false, DIM);
  if (more !== undefined) paper.line(more);
};

const signedText = (
  { signed }: EvidenceExcursion,
  part: 'cause' | 'correction',
  { say }: SheetWords,
): string => signed.at(-1)?.[part] ?? say('evidence.unsigned');

const excursionTable = (paper: Paper, excursions: readonly EvidenceExcursion[], words: SheetWords): void => {
  const { say, moment, word } = words;
  if (excursions.length === 0) {
    paper.line(say('evidence.excursions-none'));
    return;
  }
  paper.table(
    [
      { heading: say('evidence.alarm'), share: 24 },
      { heading: say('evidence.from'), share: 11 },
      { heading: say('evidence.to'), share: 11 },
      { heading: say('evidence.notified'), share: 14 },
      { heading: say('evidence.acts'), share: 16 },
      { heading: say('evidence.cause'), share: 17 },
      { heading: say('evidence.correction'), share: 17 },
    ],
    excursions.map((excursion) => {
      const last = excursion.signed.at(-1);
      const notified = excursion.notices.map(
        ({ at, to, channel, state }) =>
          `${to}: ${word('outbox-channel', channel)}, ${word('outbox-state', state)}, ${moment(at)}`,
      );
      const acts = excursion.acts.map(
        ({ at, by, kind, reason }) =>
          `${by}: ${word('change', kind)}, ${moment(at)}${reason === null ? '' : ` (${reason})`}`,
      );
      return cellsOf(
        excursion.message,
        moment(excursion.raisedAt),
        excursion.clearedAt === null ? say('evidence.still-on') : moment(excursion.clearedAt),
        notified.join('; ') || say('evidence.nobody-notified'),
        acts.join('; ') || say('evidence.nobody-acted'),
        signedText(excursion, 'cause', words),
        last === undefined
          ? signedText(excursion, 'correction', words)
          : `${last.correction} (${say('evidence.signed-by', { by: last.by, signed_at: last.at })})`,
      );
    }),
  );
  for (const { signed } of excursions)
    for (const { at, ...earlier } of signed.slice(0, -1))
      paper.line(say('evidence.superseded', { ...earlier, signed_at: at }), false, DIM);
};

const trainingTable = (paper: Paper, { training }: EvidenceReport, words: SheetWords): void => {
  const { say } = words;
  paper.heading(say('evidence.training'));
  if (training.length === 0) {
    paper.line(say('evidence.training-none'));
    return;
  }
  paper.table(
    [
      { heading: say('training.person'), share: 20 },
      { heading: say('training.procedure'), share: 40 },
      { heading: say('training.day'), share: 16 },
      { heading: say('training.shown-by'), share: 24 },
    ],
    training.map(({ person, procedure, edition, day, shownBy, withdrawn }) =>
      cellsOf(
        person,
        [
          edition === null ? procedure : `${procedure}, ${edition}`,
          ...(withdrawn === null ? [] : [say('training.withdrawn', { ...withdrawn })]),
        ].join('; '),
        words.day(`${day}T12:00:00Z`),
        shownBy,
      ),
    ),
  );
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
