// Measures text in the type of the screens. Loaded faces change every width, so whoever lays out by it reads
// `facesLoaded` and lays out anew.

import { signal } from '@preact/signals';
import type { EmsOf } from '../common/wall/text-fit.ts';

export const facesLoaded = signal(false);

const MEASURED_PIXELS = 100;
/** Kerning and rounding of a line in the page against one that is measured alone. */
const SAFETY = 1.03;

const widths = new Map<string, number>();
/** Of one letter, and of two with what the face takes off between them. */
const letterWidths = new Map<string, number>();
const context = document.createElement('canvas').getContext('2d');

/** The family is set in the tokens of the page; the widest weight that is used. Setting it takes longer than measuring. */
const setFont = (): void => {
  if (context !== null)
    context.font = `600 ${MEASURED_PIXELS}px ${getComputedStyle(document.documentElement).fontFamily}`;
};
setFont();

void document.fonts.ready.then(() => {
  widths.clear();
  letterWidths.clear();
  setFont();
  facesLoaded.value = true;
});

const measureEms = (text: string, by: CanvasRenderingContext2D): number =>
  by.measureText(text).width / MEASURED_PIXELS;

const letterWidth = (letters: string, by: CanvasRenderingContext2D): number => {
  const before = letterWidths.get(letters);
  if (before !== undefined) return before;
  const width = measureEms(letters, by);
  letterWidths.set(letters, width);
  return width;
};

/** Scripts whose letters take the same form wherever they are in a word: a text is as wide as its pairs of letters. */
const LETTER_BY_LETTER = /^[ -\u024f\u2010-\u2026\u2060]+$/u;

const measure = (text: string, by: CanvasRenderingContext2D): number => {
  if (!LETTER_BY_LETTER.test(text)) return measureEms(text, by);
  let width = letterWidth(text.charAt(0), by);
  for (let index = 1; index < text.length; index += 1)
    width += letterWidth(text.slice(index - 1, index + 1), by) - letterWidth(text.charAt(index - 1), by);
  return width;
};

export const emsOf: EmsOf = (text) => {
  const before = widths.get(text);
  if (before !== undefined) return before;
  if (context === null) return text.length / 2;
  const width = measure(text, context) * SAFETY;
  // Readings and ages make ever new texts on a wall that hangs for months.
  if (widths.size > 3000) widths.clear();
  widths.set(text, width);
  return width;
};
