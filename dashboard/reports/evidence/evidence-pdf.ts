// The record of a span on paper, A4 or Letter, tagged: the same figures as on the screen and in the table.

import type { EvidenceReport } from '../../api/evidence.ts';
import { changeText } from './change-text.ts';
import { DIM, openPaper, type Paper, type PaperSize } from '../night/pdf-paper.ts';
import { signLines } from '../night/sign-lines.ts';
import type { SheetWords } from '../night/sheet-words.ts';
import {
  beyondTable,
  cells,
  excursionTable,
  limitsTable,
  probeTable,
  readingsTable,
} from './place-tables.ts';

const changesTable = (paper: Paper, report: EvidenceReport, words: SheetWords): void => {
  const { say, moment, word } = words;
  paper.heading(say('evidence.changes'));
  if (report.changes.length === 0) paper.line(say('evidence.changes-none'));
  else
    paper.table(
      [
        { heading: say('evidence.when'), share: 14 },
        { heading: say('evidence.who'), share: 14 },
        { heading: say('evidence.what'), share: 20 },
        { heading: say('evidence.change'), share: 38 },
        { heading: say('evidence.reason'), share: 14 },
      ],
      report.changes.map((row) =>
        cells(
          moment(row.at),
          `${row.actor} (${word('role', row.role)})`,
          `${word('action', row.action)} ${row.entityId}`,
          changeText(row.before, row.after),
          row.reason ?? '–',
        ),
      ),
    );
  if (report.changesLeftOut > 0) paper.line(say('evidence.changes-more', { count: report.changesLeftOut }));
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
      cells(
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
    readingsTable(paper, place, report.step, words);
    limitsTable(paper, place, words);
    beyondTable(paper, place, words);
    paper.subheading(say('evidence.excursions'));
    excursionTable(paper, place.excursions, words);
    probeTable(paper, place, words);
  }
  if (report.elsewhere.length > 0) {
    paper.heading(say('evidence.elsewhere'));
    excursionTable(paper, report.elsewhere, words);
  }
  changesTable(paper, report, words);
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
