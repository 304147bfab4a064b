// Readings of a stick as people write or paste them: one a line, hours and millimetres. Pure.

export interface Opening {
  readonly hours: number;
  readonly millimetres: number;
}

export type OpeningText =
  | { readonly ok: true; readonly openings: readonly Opening[] }
  /** Number of the first line that is not two numbers, from 1. */
  | { readonly ok: false; readonly line: number };

/** Point or comma; a minus sign proper too. Null for anything else, an empty text included. */
export const numberIn = (text: string): number | null => {
  const plain = text.trim().replace('−', '-').replace(',', '.');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
};

/** Columns are parted by space, tab, semicolon or bar, so that a comma can be a decimal sign. */
export const openingsIn = (text: string): OpeningText => {
  const openings: Opening[] = [];
  for (const [index, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const [hours = null, millimetres = null, ...more] = line
      .trim()
      .split(/[\s;|]+/)
      .map(numberIn);
    if (hours === null || millimetres === null || more.length > 0) return { ok: false, line: index + 1 };
    openings.push({ hours, millimetres });
  }
  return { ok: true, openings };
};
