// What the plugin of the words makes at build; see words-plugin.ts.
declare module 'virtual:words' {
  export type Values = Readonly<Record<string, number | string>>;
  /** Each part is loaded with the screens that use it: a wall must not wait for words that it does not show. */
  export type Part =
    | 'wall'
    | 'daily'
    | 'set-up'
    | 'quality'
    | 'sheets'
    | 'evidence'
    | 'work'
    | 'materials'
    | 'rules'
    | 'sources';

  export type WebMessages = Readonly<Record<string, string | ((values: Values) => string)>>;
  interface LoadableLanguage {
    readonly name: string;
    readonly locale: string;
    readonly parts: Readonly<Record<Part, () => Promise<{ readonly default: WebMessages }>>>;
  }
  export const languages: Readonly<Record<string, LoadableLanguage>>;
}
