// Paper for the sheets: page, type, headings, tables that go on overleaf with their heads, page numbers. Nothing
// of nights is in it. The type covers every European script, so that no name loses a letter. Every part is tagged
// (ISO 32000-1, 14.8), so that it can be read aloud and searched in order.

import { createRequire } from 'node:module';
import { columnWidths } from './column-widths.ts';
import { bindUnits } from '../../../words/bind-units.ts';
import { pdfTags, type PdfTags } from './pdf-tags.ts';

export const PAPERS = ['a4', 'letter'] as const;
export type PaperSize = (typeof PAPERS)[number];

/** Points; 15 mm, which every desk printer can keep. */
const MARGIN = 42.5;
const FOOT = 16;
/** Of running text, points; and when a sheet would else need a second page. */
const SMALL = 7.2;
export const DENSITIES = [1, 0.91] as const;
const TITLE = 17;
const INK = '#1b1c1e';
export const DIM = '#4e4f53';
export const RULE = '#b9b7b1';
const CELL_GAP = 6;
const ROW_GAP = 1.6;

const { resolve } = createRequire(import.meta.url);
const REGULAR = resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf');
const BOLD = resolve('dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf');

export interface Column {
  readonly heading: string;
  /** Share of the width. */
  readonly share: number;
  readonly align?: 'right';
}
export interface Cell {
  readonly text: string;
  readonly bold?: boolean;
}

type CellMark = (index: number, work: () => void) => void;

export interface Paper {
  /** Size of running text, points. */
  readonly small: number;
  /** 1, or less where room is scarce. */
  readonly density: number;
  readonly pages: () => number;
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly width: number;
  /** Goes on overleaf when less than so much of the page is left. */
  readonly room: (height: number) => void;
  readonly type: (size: number, bold?: boolean, colour?: string) => PDFKit.PDFDocument;
  readonly tags: PdfTags;
  readonly title: (text: string, beside: string) => void;
  readonly heading: (text: string) => void;
  readonly subheading: (text: string) => void;
  readonly line: (text: string, bold?: boolean, colour?: string) => void;
  readonly table: (columns: readonly Column[], rows: readonly (readonly Cell[])[]) => void;
  readonly finish: (foot: (page: number, pages: number) => string) => Promise<Buffer>;
}

/** The library is loaded with the first paper: it is large, and a start does not need it. */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: everything draws into one document
export const openPaper = async (
  size: PaperSize,
  about: { readonly title: string; readonly author: string; readonly language: string },
  density = 1,
): Promise<Paper> => {
  const { default: PDFDocument } = await import('pdfkit');
  const small = SMALL * density;
  const doc = new PDFDocument({
    size: size === 'a4' ? 'A4' : 'LETTER',
    margins: { top: MARGIN * 0.8, bottom: MARGIN, left: MARGIN, right: MARGIN },
    bufferPages: true,
    lang: about.language,
    info: { Title: about.title, Author: about.author },
    displayTitle: true,
    tagged: true,
    pdfVersion: '1.7',
  });
  const tags = pdfTags(doc);
  doc.registerFont('regular', REGULAR);
  doc.registerFont('bold', BOLD);
  const chunks: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => chunks.push(chunk));
  const done = new Promise<Buffer>((resolve, reject) => {
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
  });
  const left = MARGIN;
  const width = doc.page.width - 2 * MARGIN;
  const bottom = () => doc.page.height - MARGIN;
  const type: Paper['type'] = (points, bold = false, colour = INK) =>
    doc
      .font(bold ? 'bold' : 'regular')
      .fontSize(points)
      .fillColor(colour);
  const room = (height: number): void => {
    if (doc.y + height <= bottom()) return;
    doc.addPage();
    doc.y = doc.page.margins.top;
  };
  const line: Paper['line'] = (words, bold = false, colour = INK) => {
    const text = bindUnits(words);
    room(type(small, bold).heightOfString(text, { width }));
    tags.mark('P', () => type(small, bold, colour).text(text, left, doc.y, { width }));
    doc.y += 1;
  };
  /** With the gap after it; a name without end takes no room from the others. */
  const longestWord = ({ text = '', bold = false }: Partial<Cell> = {}): number => {
    const font = type(small, bold);
    const widest = Math.max(...text.split(' ').map((word) => font.widthOfString(word)));
    return Math.min(widest + 0.5, width / 6) + CELL_GAP;
  };
  const table: Paper['table'] = (columns, unboundRows) => {
    const rows = unboundRows.map((row) => row.map((cell) => ({ ...cell, text: bindUnits(cell.text) })));
    const head = columns.map(({ heading }): Cell => ({ text: heading }));
    const longestWords = columns.map((_column, index) =>
      Math.max(...[head, ...rows].map((cells) => longestWord(cells[index]))),
    );
    const widths = columnWidths(
      columns.map(({ share }) => share),
      longestWords,
      width,
    );
    const draw = (cells: readonly Cell[], colour: string, mark: CellMark): void => {
      const top = doc.y;
      let x = left;
      let lowest = top;
      for (const [index, cell] of cells.entries()) {
        const column = widths[index] ?? 0;
        mark(index, () =>
          type(small, cell.bold, colour).text(cell.text, x, top, {
            width: column - CELL_GAP,
            align: columns[index]?.align ?? 'left',
          }),
        );
        lowest = Math.max(lowest, doc.y);
        x += column;
      }
      doc.y = lowest + ROW_GAP;
      tags.artifact(() => {
        doc.moveTo(left, doc.y - ROW_GAP / 2).lineTo(left + width, doc.y - ROW_GAP / 2);
        doc.lineWidth(0.4).strokeColor(RULE).stroke();
      });
      doc.y += ROW_GAP / 2;
    };
    const height = (cells: readonly Cell[]): number =>
      Math.max(
        ...cells.map(({ text, bold }, index) =>
          type(small, bold).heightOfString(text, { width: (widths[index] ?? 0) - CELL_GAP }),
        ),
      ) +
      2 * ROW_GAP;
    const heads: CellMark = (_index, work) => tags.mark('TH', work);
    const figures: CellMark = (index, work) => tags.mark(index === 0 ? 'TH' : 'TD', work);
    room(height(head) + height(rows[0] ?? head));
    tags.inside('Table', () => {
      tags.inside('TR', () => draw(head, DIM, heads));
      for (const row of rows) {
        const page = doc.bufferedPageRange().count;
        room(height(row));
        // Read once, at the top of the table.
        if (doc.bufferedPageRange().count > page) draw(head, DIM, (_index, work) => tags.artifact(work));
        tags.inside('TR', () => draw(row, INK, figures));
      }
    });
  };
  return {
    small,
    density,
    pages: () => doc.bufferedPageRange().count,
    doc,
    left,
    width,
    room,
    type,
    tags,
    title: (text, beside) => {
      const top = doc.y;
      const taken = type(9).widthOfString(beside) + type(TITLE, true).widthOfString(text) + 2 * CELL_GAP;
      tags.mark('H1', () => type(TITLE, true).text(text, left, top, { width }));
      const under = doc.y;
      tags.mark('P', () =>
        type(9, false, DIM).text(beside, left, taken > width ? under : top + 4, { width, align: 'right' }),
      );
      doc.y = Math.max(under, doc.y);
    },
    heading: (text) => {
      room(40);
      doc.y += 6 * density;
      tags.mark('H2', () => type(9.2, true).text(text, left, doc.y, { width }));
      doc.y += 2;
    },
    subheading: (text) => {
      room(30);
      doc.y += 3 * density;
      tags.mark('H3', () => type(small, true, DIM).text(text, left, doc.y, { width }));
      doc.y += 1;
    },
    line,
    table,
    finish: (foot) => {
      const { count } = doc.bufferedPageRange();
      for (let page = 0; page < count; page += 1) {
        doc.switchToPage(page);
        // Text below the margin would open a page of its own.
        doc.page.margins.bottom = 0;
        tags.artifact(() =>
          type(6.5, false, DIM).text(foot(page + 1, count), left, doc.page.height - MARGIN + FOOT / 2, {
            width,
            align: 'right',
            lineBreak: false,
          }),
        );
      }
      tags.end();
      doc.end();
      return done;
    },
  };
};
