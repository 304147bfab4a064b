// What the files of a language hold, as one flat list of messages by dotted key. Pure; the server's loader, the build
// of the screens and the tests read the same way.

/** A file of messages: texts by key, nested where keys share a beginning. */
export interface MessageTree {
  readonly [key: string]: string | MessageTree;
}
/** Texts in ICU MessageFormat by dotted key. */
export type Messages = Readonly<Record<string, string>>;

/** Files whose keys are codes alone; the beginning of their dotted keys. Every other file writes its keys in full. */
const BEGINNINGS: Readonly<Record<string, string>> = { rules: 'rule.', errors: 'error.' };

const flatten = (tree: MessageTree, beginning: string): readonly (readonly [string, string])[] =>
  Object.entries(tree).flatMap(([key, content]) =>
    typeof content === 'string'
      ? [[beginning + key, content] as const]
      : flatten(content, `${beginning}${key}.`),
  );

/**
 * Messages of one file.
 * @param name of the file without its folder and ending, e.g. `rules`
 * @example messagesOf('rules', { 'fire-risk': { name: 'Fire risk' } }) // { 'rule.fire-risk.name': 'Fire risk' }
 */
export const messagesOf = (name: string, tree: MessageTree): Messages =>
  Object.fromEntries(flatten(tree, BEGINNINGS[name] ?? ''));

/**
 * The messages with what they refer to in all of the language: texts that are only `@` and a key stand for
 * the text of that key, so that a caution is written once.
 * @throws when the key that is meant has no text of its own
 */
export const resolveReferences = (messages: Messages, everything: Messages): Messages =>
  Object.fromEntries(
    Object.entries(messages).map(([key, text]) => {
      if (!text.startsWith('@')) return [key, text];
      const target = everything[text.slice(1)];
      if (target === undefined || target.startsWith('@'))
        throw new Error(`The message "${key}" refers to "${text.slice(1)}", which has no text of its own.`);
      return [key, target];
    }),
  );
