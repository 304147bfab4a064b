// The tables of the night sheet on paper: its storage places and its patterns.

import type { NightSheet, PatternLine } from '../../api/night.ts';
import { type Cell, DIM, type Paper } from './pdf-paper.ts';
import { reasonTexts, type SheetWords } from './sheet-words.ts';

export const placeTable = (paper: Paper, sheet: NightSheet, words: SheetWords): void => {
  const { text } = words;
  if (sheet.places.length === 0) {
    paper.line(text('no-places'));
    return;
  }
  paper.table(
    [
      { heading: text('place'), share: 13 },
      { heading: text('verdict'), share: 13 },
      { heading: text('min'), share: 8, align: 'right' },
      { heading: text('max'), share: 8, align: 'right' },
      { heading: text('mkt'), share: 10, align: 'right' },
      { heading: text('swings'), share: 14, align: 'right' },
      { heading: text('largest'), share: 8, align: 'right' },
      { heading: text('out-of-band'), share: 9, align: 'right' },
      { heading: text('gaps'), share: 9, align: 'right' },
      { heading: text('reason'), share: 32 },
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

export const patternTable = (paper: Paper, sheet: NightSheet, words: SheetWords): void => {
  const { text, word } = words;
  if (sheet.patterns.length === 0) {
    paper.line(text('no-patterns'));
    return;
  }
  paper.table(
    [
      { heading: text('pattern'), share: 18 },
      { heading: text('verdict'), share: 12 },
      { heading: text('lies'), share: 11 },
      { heading: `${text('min')} / ${text('max')}`, share: 16, align: 'right' },
      { heading: text('mkt'), share: 8, align: 'right' },
      { heading: text('predicted'), share: 21, align: 'right' },
      { heading: text('tolerance'), share: 9, align: 'right' },
      { heading: text('invest-by'), share: 13 },
      { heading: text('reason'), share: 38 },
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
      { text: pattern.investBy === null ? '–' : words.moment(pattern.investBy), bold: pattern.isOverdue },
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
