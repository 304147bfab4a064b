import { DIM, type Paper, RULE } from './pdf-paper.ts';
import type { SheetWords } from './sheet-words.ts';

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
