interface Forbidden {
  readonly word: string;
  readonly instead: string;
  readonly allowed: readonly string[];
  readonly folders: readonly string[];
}
export function forbiddenWords(page: string): readonly Forbidden[];
export function wordsIn(line: string, forbidden: readonly Forbidden[], path?: string): readonly string[];
export function doubleTypes(
  files: readonly { readonly path: string; readonly text: string }[],
): readonly string[];
