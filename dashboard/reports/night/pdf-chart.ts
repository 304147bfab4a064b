// The histories of the storage places drawn on the paper: the same shapes as on the screen. Lines differ by their dashes
// and their names at the end, so that a print without colour shows the same.

import { storageNightChart } from '../../charts/storage-night.ts';
import {
  type ChartFrame,
  type ChartShape,
  dashOf,
  layOutChart,
  leastHeight,
} from '../../charts/lay-out-chart.ts';
import type { PlaceLine } from '../../api/night.ts';
import { DIM, type Paper, RULE } from './pdf-paper.ts';
import type { SheetWords } from './sheet-words.ts';

declare global {
  namespace PDFKit.Mixins {
    interface PDFVector {
      /** Its types leave out that it takes a list of strokes and pauses. */
      dash(lengths: readonly number[]): this;
    }
  }
}

/** Points. */
const FRAME = { height: 134, left: 26, top: 9, foot: 13, names: 104, tickSize: 6, nameSize: 6.5 } as const;
const COLOURS = ['#1b1c1e', '#0d5490', '#7d4400', '#a82408', '#5f5000'] as const;
const LIMIT_DASH = [2, 3] as const;
/** Dashes are given for lines of twice this width. */
const LINE_WIDTH = 1;
const DASH_SCALE = LINE_WIDTH / 2;

const STROKES = {
  grid: { colour: RULE, width: 0.3 },
  limit: { colour: DIM, width: 0.9 },
  line: { colour: DIM, width: LINE_WIDTH },
} as const;

const paintPath = (doc: PDFKit.PDFDocument, shape: Extract<ChartShape, { kind: 'path' }>): void => {
  if (shape.role !== 'grid' && shape.role !== 'limit' && shape.role !== 'line') return;
  const { colour, width } = STROKES[shape.role];
  const dashes =
    shape.role === 'line'
      ? dashOf(shape.style).map((length) => length * DASH_SCALE)
      : shape.role === 'limit'
        ? LIMIT_DASH
        : [];
  doc.path(shape.d).lineWidth(width);
  doc.strokeColor(shape.role === 'line' ? (COLOURS[shape.style % COLOURS.length] ?? COLOURS[0]) : colour);
  if (dashes.length > 0) doc.dash(dashes);
  doc.stroke().undash();
};

const paintText = (
  { type, width }: Paper,
  { role, text, x, y, anchor }: Extract<ChartShape, { kind: 'text' }>,
): void => {
  const doc = role === 'tick' ? type(FRAME.tickSize, false, DIM) : type(FRAME.nameSize);
  const length = doc.widthOfString(text);
  const from = { start: x, middle: x - length / 2, end: x - length }[anchor];
  doc.text(text, from, y, {
    width: role === 'name' ? width - x : length + 1,
    lineBreak: false,
    ellipsis: true,
    baseline: 'alphabetic',
  });
};

export const nightChart = (
  paper: Paper,
  places: readonly PlaceLine[],
  span: { readonly from: number; readonly to: number },
  words: SheetWords,
): void => {
  const chart = storageNightChart(
    { places, ...span },
    { ...words, day: words.weekday },
    { label: (names) => names, limit: (temperature) => `${words.text('limit')} ${temperature}` },
  );
  if (chart === null) return;
  const { doc, left, width, room, density, tags } = paper;
  const asked: ChartFrame = { ...FRAME, width, height: FRAME.height * density ** 2 };
  const frame = { ...asked, height: leastHeight(chart, asked) };
  room(frame.height);
  const top = doc.y;
  const draw = (): void => {
    doc.save().translate(left, top);
    for (const shape of layOutChart(chart, frame)) {
      if (shape.kind === 'path') paintPath(doc, shape);
      if (shape.kind === 'text') paintText(paper, shape);
    }
    doc.restore();
  };
  tags.mark('Figure', draw, chart.label);
  doc.x = left;
  doc.y = top + frame.height;
};
