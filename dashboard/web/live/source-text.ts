// Where a figure comes from, in the reader's language. Sources are written in English beside the figures; the other
// language has them under `source.` and the English words. Names of standards, papers and books stay as they are.

import { formatSignificant, formatTemperature } from '../base/format.ts';
import { t, word } from '../base/messages.ts';
import { reader } from './lab-state.ts';

/** As `labsOwn` of wax/classes/wax-value.ts writes it. */
const INSTEAD = /^instead of (\S+) \((published|common practice|from memory|lab's own): (.*)\)$/s;
/** As `patternShrinkage` of wax/fit-budget.ts writes it. */
const EXPANSION = /^expansion of .* from (\S+) to (\S+) °C$/;

/** `isTemperature`: the figure is one, so that what it stands instead of is said in the reader's unit. */
export const sourceText = (source: string, isTemperature = false): string => {
  const degrees = (celsius: string): string => formatTemperature(Number(celsius), reader.value);
  const [, instead, standing, before] = INSTEAD.exec(source) ?? [];
  if (instead !== undefined && standing !== undefined && before !== undefined)
    return t('source-of.instead', {
      value: isTemperature ? degrees(instead) : formatSignificant(Number(instead), reader.value),
      standing: word('standing', standing),
      source: sourceText(before),
    });
  const [, from, to] = EXPANSION.exec(source) ?? [];
  if (from !== undefined && to !== undefined)
    return t('source-of.expansion', { from: degrees(from), to: degrees(to) });
  return word('source', source);
};
