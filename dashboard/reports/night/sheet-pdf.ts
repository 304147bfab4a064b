// The night sheet on paper, A4 or Letter: first what to do, then why, then who signs. One page where it fits; what is
// longer goes on overleaf with its heads repeated.

import { acknowledgementOf } from './acknowledgement.ts';
import type { NightSheet, PatternLine, Verdict } from '../../api/night.ts';
import { nightChart } from './pdf-chart.ts';
import { type Cell, DENSITIES, DIM, openPaper, type Paper, type PaperSize, RULE } from './pdf-paper.ts';
import { reasonTexts, type SheetWords } from './sheet-words.ts';

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
  const list = (verdict: Verdict): string =>
    patterns
      .filter((pattern) => pattern.verdict === verdict && pattern.fate === null)
      .map(({ id, caseReference }) => `${id} (${caseReference})`)
      .join(', ') || words.text('none');
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
    const count = patterns.filter((pattern) => pattern.verdict === verdict && pattern.fate === null).length;
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

const placeTable = (paper: Paper, sheet: NightSheet, words: SheetWords): void => {
  const { text } = words;
  if (sheet.places.length === 0) {
    paper.line(text('no-places'));
    return;
  }
  paper.table(
    [
      { heading: text('place'), share: 15 },
      { heading: text('verdict'), share: 16 },
      { heading: text('min'), share: 8, align: 'right' },
      { heading: text('max'), share: 8, align: 'right' },
      { heading: text('mkt'), share: 10, align: 'right' },
      { heading: text('swings'), share: 7, align: 'right' },
      { heading: text('largest'), share: 8, align: 'right' },
      { heading: text('out-of-band'), share: 9, align: 'right' },
      { heading: text('gaps'), share: 12, align: 'right' },
      { heading: text('reason'), share: 27 },
    ],
    sheet.places.map(({ name, verdict, figures, reasons }): readonly Cell[] => [
      { text: name, bold: true },
      { text: words.word('place-verdict', verdict), bold: verdict !== 'may-be-invested' },
      { text: words.celsius(figures.minCelsius) },
      { text: words.celsius(figures.maxCelsius) },
      { text: words.celsius(figures.meanKineticCelsius) },
      { text: words.number(figures.swings, 1) },
      { text: words.difference(figures.largestSwingCelsius) },
      { text: words.minutes(figures.minutesOutOfBand) },
      { text: words.minutes(figures.gapMinutes) },
      { text: reasonTexts(reasons) },
    ]),
  );
};

const errorText = (pattern: PatternLine, { number }: SheetWords): string =>
  pattern.predictedMicrometres === null || pattern.lowMicrometres === null || pattern.highMicrometres === null
    ? '–'
    : `${number(pattern.predictedMicrometres, 0)} µm${pattern.isCalibrated ? '' : '*'} (${number(pattern.lowMicrometres, 0)}–${number(pattern.highMicrometres, 0)})`;

const patternTable = (paper: Paper, sheet: NightSheet, words: SheetWords): void => {
  const { text, word } = words;
  if (sheet.patterns.length === 0) {
    paper.line(text('no-patterns'));
    return;
  }
  paper.table(
    [
      { heading: text('pattern'), share: 18 },
      { heading: text('verdict'), share: 13 },
      { heading: text('lies'), share: 13 },
      { heading: `${text('min')} / ${text('max')}`, share: 15, align: 'right' },
      { heading: text('mkt'), share: 10, align: 'right' },
      { heading: text('predicted'), share: 20, align: 'right' },
      { heading: text('tolerance'), share: 9, align: 'right' },
      { heading: text('invest-by'), share: 14 },
      { heading: text('reason'), share: 25 },
    ],
    sheet.patterns.map((pattern): readonly Cell[] => [
      { text: `${pattern.id} ${pattern.caseReference}`, bold: true },
      {
        text:
          word('verdict', pattern.verdict) +
          (pattern.fate === null ? '' : ` (${word('fate', pattern.fate.kind)})`),
        bold: pattern.verdict !== 'may-be-invested',
      },
      { text: pattern.stationName },
      {
        text:
          pattern.figures.minCelsius === null
            ? '–'
            : `${words.number(inUnit(pattern.figures.minCelsius, words), 1)} / ${words.celsius(pattern.figures.maxCelsius)}`,
      },
      { text: words.celsius(pattern.figures.meanKineticCelsius) },
      { text: errorText(pattern, words) },
      { text: `${words.number(pattern.toleranceMicrometres, 0)} µm` },
      {
        text: pattern.investBy === null ? '–' : words.moment(pattern.investBy),
      },
      { text: reasonTexts(pattern.reasons) },
    ]),
  );
  const standings = [
    ...new Set(sheet.patterns.flatMap(({ standing }) => (standing === null ? [] : [standing]))),
  ];
  paper.line(
    text('model-note', {
      standing: standings.map((standing) => word('standing', standing)).join(', ') || '–',
    }),
    false,
    DIM,
  );
};

const inUnit = (value: number, { unit }: SheetWords): number =>
  unit === 'celsius' ? value : value * 1.8 + 32;

/** Where whoever has seen the sheet signs it on paper. */
export const signLines = (paper: Paper, { text }: SheetWords): void => {
  const { doc, left, width, type, room, tags } = paper;
  room(34);
  const y = doc.y + 18;
  tags.artifact(() => {
    doc.moveTo(left, y).lineTo(left + width * 0.45, y);
    doc.moveTo(left + width * 0.55, y).lineTo(left + width, y);
    doc.lineWidth(0.6).strokeColor(RULE).stroke();
  });
  const under = (label: string, x: number): void =>
    tags.mark('P', () => type(6.5, false, DIM).text(label, x, y + 2, { lineBreak: false }));
  under(text('sign-here'), left);
  under(text('date-here'), left + width * 0.55);
  doc.x = left;
  doc.y = y + 13;
};

const people = (paper: Paper, { notes, signatures }: NightSheet, words: SheetWords): void => {
  const { text } = words;
  if (notes.length > 0) {
    paper.heading(text('notes'));
    for (const note of notes)
      paper.line(text('note-line', { by: note.by, when_at: note.at, text: note.text }));
  }
  paper.heading(text('signed'));
  for (const { by, at, holds } of signatures)
    paper.line(text(holds ? 'signed-line' : 'signed-changed', { by, when_at: at }), true);
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
  lines(
    paper,
    text('heaters'),
    text('no-heaters'),
    sheet.heaters
      .filter(({ reasons }) => reasons.length > 0)
      .map(({ name, reasons }) => `${name}: ${reasonTexts(reasons)}`),
  );
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
