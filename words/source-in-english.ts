// Where a figure comes from, for programs and for the pages of the documentation.

import { sayTo } from './load-languages.ts';
import type { MessageKey } from './message-key.ts';
import { PLAIN_ENGLISH } from './quantity.ts';
import { type CodedSource, sourceText } from './source-text.ts';

const say = sayTo(PLAIN_ENGLISH, 'UTC');

export const sourceInEnglish = (source: CodedSource): string =>
  sourceText(source, (key, values) => say(key as MessageKey, values), String);
