// The night sheet on paper, A4 or Letter: first what to do, then why, then who signs. One page where it fits; what is
// longer goes on overleaf with its heads repeated.

import { acknowledgementOf } from './acknowledgement.ts';
import type { NightSheet, Verdict } from '../../api/night.ts';
import { nightChart } from './pdf-chart.ts';
import { DENSITIES, DIM, openPaper, type Paper, type PaperSize } from './pdf-paper.ts';
import { patternTable, placeTable } from './sheet-tables.ts';
import { namesOf } from './named-patterns.ts';
import { reasonTexts, type SheetWords } from './sheet-words.ts';
import { signLines } from './sign-lines.ts';
import { unmeasuredHeaters } from './unmeasured-heaters.ts';

/** Distinct in shape too, for print without colour: the more corners, the graver. */
const OUTLINES: Readonly<Record<Verdict, string>> = {
  'may-be-invested': 'M2 12.500L9 19.500 22 5',
  check: 'M12 2L22 12 12 22 2 12z',
  remake: 'M3 3L21 21M21 3L3 21',
};
const GLANCE: readonly Verdict[] = ['remake', 'check', 'may-be-invested'];
const GLANCE_GAP = 8;

const glance = (
  { doc, left, width, type, room, small, tags }: Paper,
  { patterns }: NightSheet,
  words: SheetWords,
): void => {
  const column = (width - 2 * GLANCE_GAP) / 3;
  const waitingWith = (verdict: Verdict) =>
    patterns.filter((pattern) => pattern.verdict === verdict && pattern.fate === null);
  const list = (verdict: Verdict): string =>
    namesOf(waitingWith(verdict), (count) => words.text('further', { count })) || words.text('none');
  const height =
    24 +
    Math.max(...GLANCE.map((verdict) => type(small).heightOfString(list(verdict), { width: column - 16 })));
  room(height + 6);
  const top = doc.y + 4;
  for (const [index, verdict] of GLANCE.entries()) {
    const x = left + index * (column + GLANCE_GAP);
    tags.artifact(() => {
      doc.roundedRect(x, top, column, height, 3).lineWidth(0.8).strokeColor(DIM).stroke();
      doc
        .save()
        .translate(x + 8, top + 6)
        .scale(0.45);
      doc.path(OUTLINES[verdict]).lineWidth(3.4).strokeColor('#1b1c1e').stroke().restore();
    });
    const { length: count } = waitingWith(verdict);
    tags.mark('P', () =>
      type(9.2, true).text(`${words.word('verdict', verdict)}: ${count}`, x + 24, top + 6, {
        width: column - 30,
      }),
    );
    tags.mark('P', () => type(small).text(list(verdict), x + 8, top + 20, { width: column - 16 }));
  }
  doc.x = left;
  doc.y = top + height + 2;
};

const people = (paper: Paper, { figures, notes, signatures }: NightSheet, words: SheetWords): void => {
  const { text } = words;
  if (notes.length > 0) {
    paper.heading(text('notes'));
    for (const note of notes)
      paper.line(text('note-line', { by: note.by, when_at: note.at, text: note.text }));
  }
  paper.heading(text('signed'));
  for (const { by, at, holds, figures: digest } of signatures)
    paper.line(text(holds ? 'signed-line' : 'signed-changed', { by, when_at: at, digest }), true);
  paper.line(text('digest', { digest: figures }), false, DIM);
  signLines(paper, words);
  paper.line(text('advises'), false, DIM);
};

const lines = (paper: Paper, heading: string, none: string, texts: readonly string[]): void => {
  paper.heading(heading);
  if (texts.length === 0) paper.line(none);
  for (const line of texts) paper.line(line);
};

const alarmText = (
  alarm: NightSheet['alarms'][number],
  { brief, minutes, text, word }: SheetWords,
): string => {
  const { raisedAt, clearedAt, message, acts } = alarm;
  const acknowledgement = acknowledgementOf(alarm);
  const done = acts.map(
    ({ at, kind, by, reason }) =>
      `${by}: ${word('change', kind)}, ${brief(at)}${reason === null ? '' : ` (${reason})`}`,
  );
  const end = clearedAt === null ? text('still-on') : text('over', { when: brief(clearedAt) });
  const after =
    acknowledgement === null
      ? text('nobody-acted')
      : text('acknowledged-after', { after: minutes(acknowledgement.afterMinutes) });
  return `${brief(raisedAt)}  ${message} (${[end, after, ...done].join('; ')})`;
};

/** Of the latest verdict on the sheet; null where it has none. */
const newestVerdict = ({ patterns }: NightSheet): string | null =>
  patterns
    .map(({ asOf }) => asOf)
    .sort()
    .at(-1) ?? null;

const drawSheet = (sheet: NightSheet, words: SheetWords, paper: Paper, title: string): Paper => {
  const { text } = words;
  paper.title(title, sheet.lab);
  paper.line(text('span', { from_at: sheet.from, to_at: sheet.opens }), false, DIM);
  if (!sheet.isOver) paper.line(text('lasts', { to_at: sheet.to }), true);
  const asOf = newestVerdict(sheet);
  if (asOf !== null) paper.line(text('as-of', { when_at: asOf }), false, DIM);
  if (!sheet.hoursKnown) paper.line(text('no-hours'), false, DIM);
  glance(paper, sheet, words);
  lines(
    paper,
    text('see-to'),
    text('nothing-to-see-to'),
    sheet.seeTo.map((item) => `□ ${item.text}`),
  );
  paper.heading(text('places'));
  nightChart(paper, sheet.places, { from: Date.parse(sheet.from), to: Date.parse(sheet.to) }, words);
  placeTable(paper, sheet, words);
  paper.heading(text('patterns'));
  patternTable(paper, sheet, words);
  const unmeasured = unmeasuredHeaters(sheet.heaters);
  lines(paper, text('heaters'), text('no-heaters'), [
    ...sheet.heaters
      .filter(({ reasons }) => reasons.length > 0)
      .map(({ name, reasons }) => `${name}: ${reasonTexts(reasons)}`),
    ...(unmeasured === '' ? [] : [text('heaters-unmeasured', { names: unmeasured })]),
  ]);
  lines(
    paper,
    text('unwell-probes'),
    text('no-unwell'),
    sheet.probes.map(
      ({ probe, stationName, reasons }) => `${probe} (${stationName ?? '–'}): ${reasonTexts(reasons)}`,
    ),
  );
  if (sheet.charges !== null)
    lines(
      paper,
      text('charges', { when_at: sheet.charges.at }),
      text('no-charges'),
      sheet.charges.near.map(({ name, doseShare, isSpent }) =>
        text(isSpent ? 'charge-spent' : 'charge-nearly', { name, dose_share: doseShare }),
      ),
    );
  lines(
    paper,
    text('alarms'),
    text('no-alarms'),
    sheet.alarms.map((alarm) => alarmText(alarm, words)),
  );
  people(paper, sheet, words);
  return paper;
};

export const nightPdf = async (sheet: NightSheet, words: SheetWords, size: PaperSize): Promise<Buffer> => {
  const { text } = words;
  const title = `${text('title')} ${words.day(`${sheet.date}T12:00:00Z`)}`;
  const about = { title: `${title}, ${sheet.lab}`, author: sheet.lab, language: words.reader.language };
  const [loose, dense] = await Promise.all(
    DENSITIES.map(async (density) => drawSheet(sheet, words, await openPaper(size, about, density), title)),
  );
  // Smaller type only where it saves the second page.
  const paper = loose !== undefined && (loose.pages() === 1 || dense?.pages() !== 1) ? loose : dense;
  if (paper === undefined) throw new Error('no density to print with');
  return paper.finish(
    (page, pages) =>
      `${sheet.lab} · ${title} · ${text('page', { page: String(page), pages: String(pages) })}`,
  );
};
