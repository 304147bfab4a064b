// Messages in ICU MessageFormat made into functions, at the start of the server; the screens have theirs made when
// they are built, because their content policy allows no code from text.

import { MessageFormat } from './message-format.ts';
import { parse, type Token } from '@messageformat/parser';
import type { Values } from './quantity.ts';

export interface MessageArguments {
  /** Every name that the message is filled in with. */
  readonly names: ReadonlySet<string>;
  /** Those of them that choose between cases. */
  readonly selectors: ReadonlySet<string>;
}

/** @throws with the place of the fault when the text is no MessageFormat */
export const argumentsOf = (text: string): MessageArguments => {
  const names = new Set<string>();
  const selectors = new Set<string>();
  const walk = (tokens: readonly Token[]): void => {
    for (const token of tokens) {
      if (token.type === 'content' || token.type === 'octothorpe') continue;
      names.add(token.arg);
      if (token.type === 'select') selectors.add(token.arg);
      if ('cases' in token) for (const { tokens: inner } of token.cases) walk(inner);
    }
  };
  walk(parse(text));
  return { names, selectors };
};

export type CompiledMessage = (values: Values) => string;

/** Codes are written with hyphens; the names of cases in a message cannot hold them and have underscores instead. */
const caseName = (code: unknown): string => String(code).replaceAll('-', '_');

/** What is missing shows as a dash: a line that was stored years ago must still be readable. */
const MISSING = '–';

export const compileMessage = (text: string, locale: string): CompiledMessage => {
  const { names, selectors } = argumentsOf(text);
  const fill = new MessageFormat(locale).compile(text);
  return (values) =>
    fill(
      Object.fromEntries(
        [...names].map((name) => {
          const value = values[name] ?? MISSING;
          return [name, selectors.has(name) ? caseName(value) : value];
        }),
      ),
    );
};

/**
 * Every text that a message can become, its places in braces: for pages that show the message itself.
 * @example variantsOf('{side, select, below {Too cold} other {Too hot}}: {value}') // ['Too cold: {value}', 'Too hot: {value}']
 */
export const variantsOf = (text: string): readonly string[] => {
  const variants = (tokens: readonly Token[]): readonly string[] =>
    tokens.reduce<readonly string[]>(
      (beginnings, token) => {
        const endings = endingsOf(token);
        return beginnings.flatMap((beginning) => endings.map((ending) => beginning + ending));
      },
      [''],
    );
  const endingsOf = (token: Token): readonly string[] => {
    if (token.type === 'content') return [token.value];
    if (token.type === 'octothorpe') return ['#'];
    return 'cases' in token ? token.cases.flatMap(({ tokens }) => variants(tokens)) : [`{${token.arg}}`];
  };
  return variants(parse(text));
};
