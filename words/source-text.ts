// Where a figure comes from, in words. Pure; shared by the server, the screens and the pages made from the data.

import type { Values } from './quantity.ts';

export interface CodedSource {
  /** Of the messages under `source.`. */
  readonly code: string;
  readonly values?: Values;
}

/**
 * @param say gives the message of a key, its values in the reader's unit
 * @param showInstead the value that a lab's own one stands instead of, in its unit
 * @example sourceText({ code: 'ada-4' }, say, String) // 'ANSI/ADA Specification No. 4 (ISO 1561), dental inlay casting wax'
 */
export const sourceText = (
  { code, values = {} }: CodedSource,
  say: (key: string, values: Values) => string,
  showInstead: (value: number) => string,
): string => {
  const { instead_source: replaced, instead_standing, instead_value, ...rest } = values;
  if (replaced === undefined) return say(`source.${code}`, values);
  return say(`source.${code}`, {
    value: showInstead(Number(instead_value)),
    standing: say(`standing.${instead_standing}`, {}),
    source: say(`source.${replaced}`, rest),
  });
};
