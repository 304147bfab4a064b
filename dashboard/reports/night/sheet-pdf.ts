// The night sheet on paper, A4 or Letter: first what to do, then why, then who signs. One page where it fits; what is
// longer goes on overleaf with its heads repeated.

import type { NightSheet, PatternLine, Verdict } from '../../api/night.ts';
import { nightChart } from './pdf-chart.ts';
import { type Cell, DENSITIES, DIM, openPaper, type Paper, type PaperSize, RULE } from './pdf-paper.ts';
import { reasonTexts, type Speaker } from '../words/night-words.ts';

/** Told by shape too, for those who do not see grey from grey: the more corners, the more hands. */
const OUTLINES: Readonly<Record<Verdict, string>> = {
  'may-be-invested': 'M2 12.500L9 19.500 22 5',
  check: 'M12 2L22 12 12 22 2 12z',
  remake: 'M3 3L21 21M21 3L3 21',
};
const GLANCE: readonly (readonly [Verdict, 'may-invest' | 'check' | 'remake'])[] = [
  ['remake', 'remake'],
  ['check', 'check'],
  ['may-be-invested', 'may-invest'],
];
const GLANCE_GAP = 8;

const glance = (
  { doc, left, width, type, room, small }: Paper,
  { patterns }: NightSheet,
  speaks: Speaker,
): void => {
  const column = (width - 2 * GLANCE_GAP) / 3;
  const list = (verdict: Verdict): string =>
    patterns
      .filter((one) => one.verdict === verdict && one.fate === null)
      .map(({ id, caseReference }) => `${id} (${caseReference})`)
      .join(', ') || speaks.text('none');
  const height =
    24 +
    Math.max(...GLANCE.map(([verdict]) => type(small).heightOfString(list(verdict), { width: column - 16 })));
  room(height + 6);
  const top = doc.y + 4;
  for (const [index, [verdict, key]] of GLANCE.entries()) {
    const x = left + index * (column + GLANCE_GAP);
    doc.roundedRect(x, top, column, height, 3).lineWidth(0.8).strokeColor(DIM).stroke();
    doc
      .save()
      .translate(x + 8, top + 6)
      .scale(0.45);
    doc.path(OUTLINES[verdict]).lineWidth(3.4).strokeColor('#1b1c1e').stroke().restore();
    const count = patterns.filter((one) => one.verdict === verdict && one.fate === null).length;
    type(9.2, true).text(`${speaks.text(key)}: ${count}`, x + 24, top + 6, { width: column - 30 });
    type(small).text(list(verdict), x + 8, top + 20, { width: column - 16 });
  }
  doc.x = left;
  doc.y = top + height + 2;
};

const placeTable = (paper: Paper, sheet: NightSheet, speaks: Speaker): void => {
  const { text } = speaks;
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
      { text: speaks.words.verdicts[verdict], bold: verdict !== 'may-be-invested' },
      { text: speaks.celsius(figures.minCelsius) },
      { text: speaks.celsius(figures.maxCelsius) },
      { text: speaks.celsius(figures.meanKineticCelsius) },
      { text: speaks.number(figures.swings, 1) },
      { text: speaks.difference(figures.largestSwingCelsius) },
      { text: speaks.minutes(figures.minutesOutOfBand) },
      { text: speaks.minutes(figures.gapMinutes) },
      { text: reasonTexts(reasons) },
    ]),
  );
};

const errorText = (one: PatternLine, { number }: Speaker): string =>
  one.predictedMicrometres === null || one.lowMicrometres === null || one.highMicrometres === null
    ? '–'
    : `${number(one.predictedMicrometres, 0)} µm${one.isCalibrated ? '' : '*'} (${number(one.lowMicrometres, 0)}–${number(one.highMicrometres, 0)})`;

const patternTable = (paper: Paper, sheet: NightSheet, speaks: Speaker): void => {
  const { text, words } = speaks;
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
    sheet.patterns.map((one): readonly Cell[] => [
      { text: `${one.id} ${one.caseReference}`, bold: true },
      {
        text:
          words.verdicts[one.verdict] +
          (one.fate === null ? '' : ` (${words.fates[one.fate.kind] ?? one.fate.kind})`),
        bold: one.verdict !== 'may-be-invested',
      },
      { text: one.stationName },
      {
        text:
          one.figures.minCelsius === null
            ? '–'
            : `${speaks.number(inUnit(one.figures.minCelsius, speaks), 1)} / ${speaks.celsius(one.figures.maxCelsius)}`,
      },
      { text: speaks.celsius(one.figures.meanKineticCelsius) },
      { text: errorText(one, speaks) },
      { text: `${speaks.number(one.toleranceMicrometres, 0)} µm` },
      { text: one.investBy === null || one.verdict === 'remake' ? '–' : speaks.moment(one.investBy) },
      { text: reasonTexts(one.reasons) },
    ]),
  );
  const standings = [
    ...new Set(sheet.patterns.flatMap(({ standing }) => (standing === null ? [] : [standing]))),
  ];
  paper.line(
    text('model-note', { standing: standings.map((one) => words.standings[one] ?? one).join(', ') || '–' }),
    false,
    DIM,
  );
};

const inUnit = (value: number, { unit }: Speaker): number => (unit === 'celsius' ? value : value * 1.8 + 32);

const people = (paper: Paper, { notes, signatures }: NightSheet, speaks: Speaker): void => {
  const { text } = speaks;
  if (notes.length > 0) {
    paper.heading(text('notes'));
    for (const note of notes)
      paper.line(text('note-line', { by: note.by, when_at: note.at, text: note.text }));
  }
  paper.heading(text('signed'));
  for (const one of signatures)
    paper.line(text(one.holds ? 'signed-line' : 'signed-changed', { by: one.by, when_at: one.at }), true);
  const { doc, left, width, type, room } = paper;
  room(34);
  const y = doc.y + 18;
  doc.moveTo(left, y).lineTo(left + width * 0.45, y);
  doc.moveTo(left + width * 0.55, y).lineTo(left + width, y);
  doc.lineWidth(0.6).strokeColor(RULE).stroke();
  type(6.5, false, DIM).text(text('sign-here'), left, y + 2, { lineBreak: false });
  type(6.5, false, DIM).text(text('date-here'), left + width * 0.55, y + 2, { lineBreak: false });
  doc.x = left;
  doc.y = y + 13;
  paper.line(text('advises'), false, DIM);
};

const lines = (paper: Paper, heading: string, none: string, texts: readonly string[]): void => {
  paper.heading(heading);
  if (texts.length === 0) paper.line(none);
  for (const one of texts) paper.line(one);
};

const alarmText = (
  { raisedAt, clearedAt, message, acts }: NightSheet['alarms'][number],
  { brief, text, words }: Speaker,
): string => {
  const done = acts.map(
    ({ at, kind, by, reason }) =>
      `${by} ${words.acts[kind] ?? kind} ${brief(at)}${reason === null ? '' : ` (${reason})`}`,
  );
  const end = clearedAt === null ? text('still-on') : text('over', { when: brief(clearedAt) });
  return `${brief(raisedAt)}  ${message} (${end}; ${done.join(', ') || text('nobody-acted')})`;
};

const drawn = (sheet: NightSheet, speaks: Speaker, paper: Paper, title: string): Paper => {
  const { text } = speaks;
  paper.title(title, sheet.lab);
  paper.line(text('span', { from_at: sheet.from, to_at: sheet.opens }), false, DIM);
  if (!sheet.isOver) paper.line(text('lasts', { to_at: sheet.to }), true);
  if (!sheet.hoursKnown) paper.line(text('no-hours'), false, DIM);
  glance(paper, sheet, speaks);
  lines(
    paper,
    text('see-to'),
    text('nothing-to-see-to'),
    sheet.seeTo.map((one) => `□ ${one.text}`),
  );
  paper.heading(text('places'));
  nightChart(paper, sheet.places, { from: Date.parse(sheet.from), to: Date.parse(sheet.to) }, speaks);
  placeTable(paper, sheet, speaks);
  paper.heading(text('patterns'));
  patternTable(paper, sheet, speaks);
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
  lines(
    paper,
    text('alarms'),
    text('no-alarms'),
    sheet.alarms.map((alarm) => alarmText(alarm, speaks)),
  );
  people(paper, sheet, speaks);
  return paper;
};

export const nightPdf = (sheet: NightSheet, speaks: Speaker, size: PaperSize): Promise<Buffer> => {
  const { text } = speaks;
  const title = `${text('title')} ${speaks.day(`${sheet.date}T12:00:00Z`)}`;
  const about = { title: `${title}, ${sheet.lab}`, author: sheet.lab, language: speaks.reader.language };
  const [loose, dense] = DENSITIES.map((density) =>
    drawn(sheet, speaks, openPaper(size, about, density), title),
  );
  // Smaller type only where it saves the second page.
  const paper = loose !== undefined && (loose.pages() === 1 || dense?.pages() !== 1) ? loose : dense;
  if (paper === undefined) throw new Error('no density to print with');
  return paper.finish(
    (page, pages) =>
      `${sheet.lab} · ${title} · ${text('page', { page: String(page), pages: String(pages) })}`,
  );
};
