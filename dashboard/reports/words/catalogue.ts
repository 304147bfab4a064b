// What every language of the sheets has to say.

import type { ReasonCode } from './verdict.ts';
import type { en } from './en.ts';

export interface NightWords {
  readonly reasons: Readonly<Record<ReasonCode, string>>;
  readonly verdicts: Readonly<Record<'may-be-invested' | 'check' | 'remake', string>>;
  readonly acts: Readonly<Record<string, string>>;
  readonly fates: Readonly<Record<string, string>>;
  readonly standings: Readonly<Record<string, string>>;
  readonly texts: Readonly<Record<TextKey, string>>;
}
export type TextKey = keyof typeof en.texts;
