// Measures text in the type of the screens. Loaded faces change every width, so whoever lays out by it reads
// `facesLoaded` and lays out anew.

import { signal } from '@preact/signals';
import type { EmsOf } from '../common/wall/text-fit.ts';

export const facesLoaded = signal(false);

const MEASURED_PIXELS = 100;
/** Kerning and rounding of a line in the page against one that is measured alone. */
const SAFETY = 1.03;

const widths = new Map<string, number>();
const context = document.createElement('canvas').getContext('2d');

/** The family is set in the tokens of the page; the widest weight that is used. Setting it takes longer than measuring. */
const setFont = (): void => {
  if (context !== null)
    context.font = `600 ${MEASURED_PIXELS}px ${getComputedStyle(document.documentElement).fontFamily}`;
};
setFont();

void document.fonts.ready.then(() => {
  widths.clear();
  setFont();
  facesLoaded.value = true;
});

export const emsOf: EmsOf = (text) => {
  const before = widths.get(text);
  if (before !== undefined) return before;
  if (context === null) return text.length / 2;
  const width = (context.measureText(text).width / MEASURED_PIXELS) * SAFETY;
  // Readings and ages make ever new texts on a wall that hangs for months.
  if (widths.size > 3000) widths.clear();
  widths.set(text, width);
  return width;
};
