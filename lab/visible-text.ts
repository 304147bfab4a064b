// Signs that a reader does not see and that a text of the lab never needs: control characters, marks that reverse the
// direction of what follows (they make one name look like another), blanks without width, letters and patterns of dots
// without ink, halves of a surrogate pair.
// Joiners and direction marks of Persian, Hindi, Hebrew and others stay.

/** Unicode 15, general categories Cc (but tab and line ends), part of Cf, and Cs; the fillers of Hangul and braille without a dot. */
const INVISIBLE =
  '\\u0000-\\u0008\\u000b\\u000c\\u000e-\\u001f\\u007f-\\u009f\\u115f\\u1160\\u2800\\u3164\\uffa0\\u200b\\u2028-\\u202e\\u2060\\u2066-\\u2069\\ud800-\\udfff';
const INVISIBLE_SIGN = new RegExp(`[${INVISIBLE}]`, 'u');
const INVISIBLE_SIGNS = new RegExp(`[${INVISIBLE}]`, 'gu');

/** Of one line: no tab and no line end either. */
export const VISIBLE_LINE_PATTERN = `^[^\\t\\n\\r${INVISIBLE}]*$`;

/** Tabs and line ends count as visible. */
export const hasInvisibleSigns = (text: string): boolean => INVISIBLE_SIGN.test(text);

/** Of a text that comes from elsewhere: each such sign becomes the one that marks that something stood there. */
export const makeVisible = (text: string): string => text.replaceAll(INVISIBLE_SIGNS, '\ufffd');
