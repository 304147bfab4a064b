// How text falls into lines of a given width, and how names too long for their place are shortened so that no two of
// them read alike. Widths are in sizes of the type (ems), so that one measure serves every size. Pure.

import { bindUnits } from '../../../../../words/bind-units.ts';
import { wordParts } from './word-breaks.ts';

/** Width of a text in sizes of its type. */
export type EmsOf = (text: string) => number;

/** With a word joiner after each hyphen: a number such as "AB-1039" stays on one line. Not for what people may copy. */
export const joinHyphens = (name: string): string => name.replaceAll('-', '-\u{2060}');

/** Lines that the text takes, broken at spaces, but not before a unit; infinite when a single word is wider than the line. */
export const linesOf = (text: string, width_ems: number, emsOf: EmsOf): number => {
  const space = emsOf(' ');
  let lines = 0;
  let room = 0;
  for (const word of bindUnits(text).split(' ')) {
    if (word === '') continue;
    const wordWidth = emsOf(word);
    if (wordWidth > width_ems) return Number.POSITIVE_INFINITY;
    if (lines > 0 && space + wordWidth <= room) {
      room -= space + wordWidth;
      continue;
    }
    lines += 1;
    room = width_ems - wordWidth;
  }
  return lines;
};

/** As many parts as the line takes with a hyphen after them; 0 when not even the first one fits. */
const partsThatFit = (line: string, parts: readonly string[], width_ems: number, emsOf: EmsOf): number => {
  let count = 0;
  while (count + 1 < parts.length && emsOf(`${line}${parts.slice(0, count + 1).join('')}-`) <= width_ems)
    count += 1;
  return count;
};

/** The same, but a word that does not fit is broken as a browser does it: at its parts, else between its letters. */
export const linesOfName = (name: string, width_ems: number, emsOf: EmsOf): number => {
  let lines = 0;
  let line = '';
  const end = (): void => {
    lines += 1;
    line = '';
  };
  const addLetters = (word: string): void => {
    for (const letter of word) {
      if (emsOf(line + letter) > width_ems && line !== '') end();
      line += letter;
    }
  };
  const add = (parts: readonly string[]): void => {
    const word = parts.join('');
    const begun = line === '' ? '' : `${line} `;
    if (emsOf(begun + word) <= width_ems) {
      line = begun + word;
      return;
    }
    const count = partsThatFit(begun, parts, width_ems, emsOf);
    if (count === 0 && begun === '') {
      addLetters(word);
      return;
    }
    end();
    add(parts.slice(count));
  };
  for (const word of name.split(' ').filter((part) => part !== '')) add(wordParts(word));
  return line === '' ? lines : lines + 1;
};

const ELLIPSIS = '…';
/** Shares of the kept letters that come before the ellipsis: the beginning matters most, until names differ later. */
const HEAD_SHARES = [1, 0.5, 0.25, 0.75, 0] as const;

/** Letters of the text with a gap where the middle is left out. */
const shorten = (text: string, letters: number, headShare: number): string => {
  const head = Math.ceil(letters * headShare);
  const tail = letters - head;
  const end = tail === 0 ? '' : text.slice(-tail).trimStart();
  return `${text.slice(0, head).trimEnd()}${ELLIPSIS}${end}`;
};

/** The same without the words that the gap would leave in part, as far as a whole one stays on each side. */
const atWords = (form: string): string => {
  const [head = '', tail = ''] = form.split(ELLIPSIS);
  const wholeHead = (head.includes(' ') ? head.slice(0, head.lastIndexOf(' ')) : head).replace(/,$/, '');
  const wholeTail = tail.includes(' ') ? tail.slice(tail.indexOf(' ') + 1) : tail;
  return `${wholeHead}${ELLIPSIS}${wholeTail === '' ? '' : ` ${wholeTail}`}`;
};

/** The most letters of `text` that fit when shortened in this way; 0 when none do. */
const mostLetters = (text: string, headShare: number, fits: (form: string) => boolean): number => {
  let most = 0;
  let tooMany = text.length;
  while (tooMany - most > 1) {
    const letters = Math.floor((most + tooMany) / 2);
    if (fits(shorten(text, letters, headShare))) most = letters;
    else tooMany = letters;
  }
  return most;
};

/**
 * Each name as it is where it `fits` its own place, else shortened to a form that fits and that no other name takes.
 * @example distinctNames(['Pot of bench 1', 'Pot of bench 2'], (text) => text.length <= 8) // ['Pot… 1', 'Pot… 2']
 */
export const distinctNames = (
  names: readonly string[],
  fits: (text: string, index: number) => boolean,
): readonly string[] => {
  const isWhole = names.map((name, index) => fits(name, index));
  const formOf = (index: number, letters: number, headShare: number, words: boolean): string => {
    const name = names[index] ?? '';
    if (isWhole[index] || letters >= name.length) return name;
    const form = shorten(name, letters, headShare);
    return words ? atWords(form) : form;
  };
  return names.map((name, index) => {
    if (isWhole[index]) return name;
    let first: string | undefined;
    for (const share of HEAD_SHARES) {
      const letters = mostLetters(name, share, (form) => fits(form, index));
      for (const words of [true, false]) {
        const form = formOf(index, letters, share, words);
        const isTaken = names.some(
          (another, at) => at !== index && another !== name && formOf(at, letters, share, words) === form,
        );
        if (!isTaken && fits(form, index)) return form;
        first ??= words ? undefined : form;
      }
    }
    return first ?? name;
  });
};
