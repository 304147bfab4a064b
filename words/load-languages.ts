// The languages that there are: one folder each. Read once, at the start; a message is compiled when it is first used.

import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type CompiledMessage, compileMessage } from './compile-message.ts';
import type { MessageKey } from './message-key.ts';
import { type Messages, type MessageTree, messagesOf, resolveReferences } from './messages.ts';
import { formatValues, type ReaderSettings, type Values } from './quantity.ts';

export interface Language {
  /** The name of its folder, e.g. `de`. */
  readonly code: string;
  /** In the language itself, e.g. "Deutsch". */
  readonly name: string;
  /** BCP 47; the habits of numbers, plurals and dates. */
  readonly locale: string;
  /** Its own texts by file and dotted key; what is missing here is given in English. */
  readonly files: Readonly<Record<string, Messages>>;
}

const read = (path: string): unknown => JSON.parse(readFileSync(path, 'utf8'));

/** @throws when a file is no JSON or a reference leads nowhere */
const readLanguage = (root: string, code: string): Language => {
  const folder = join(root, code);
  const { name, locale } = read(join(folder, 'language.json')) as { name: string; locale: string };
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.json') && file !== 'language.json')
    .sort()
    .map((file) => ({ file: basename(file, '.json'), tree: read(join(folder, file)) as MessageTree }))
    .map(({ file, tree }) => [file, messagesOf(file, tree)] as const);
  const everything = Object.assign({}, ...files.map(([, messages]) => messages)) as Messages;
  return {
    code,
    name,
    locale,
    files: Object.fromEntries(
      files.map(([file, messages]) => [file, resolveReferences(messages, everything)]),
    ),
  };
};

export const readLanguages = (root: string = import.meta.dirname): ReadonlyMap<string, Language> =>
  new Map(
    readdirSync(root, { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => name)
      .sort()
      .map((code) => [code, readLanguage(root, code)]),
  );

export const LANGUAGES = readLanguages();
export const LANGUAGE_CODES: readonly string[] = [...LANGUAGES.keys()];

const ENGLISH = readLanguage(import.meta.dirname, 'en');

/** English where the language is not there. */
const languageByCode = (code: string): Language => LANGUAGES.get(code) ?? ENGLISH;

/** Its texts by the name of their file, without folder and ending. */
export const languageFiles = (code: string): Readonly<Record<string, Messages>> => languageByCode(code).files;

const textOf = ({ files }: Language, key: string): string | undefined =>
  Object.values(files).find((messages) => messages[key] !== undefined)?.[key];

/** BCP 47. */
export const localeOf = (code: string): string => languageByCode(code).locale;

const compiled = new Map<string, CompiledMessage>();
const messageIn = (language: Language, key: string): CompiledMessage | undefined => {
  const id = `${language.code} ${key}`;
  const ready = compiled.get(id);
  if (ready !== undefined) return ready;
  const own = textOf(language, key);
  const text = own ?? textOf(ENGLISH, key);
  if (text === undefined) return undefined;
  const message = compileMessage(text, own === undefined ? ENGLISH.locale : language.locale);
  compiled.set(id, message);
  return message;
};

/** The message of a key with its values as they come; `null` when no language has the key. */
export const messageOf = (languageCode: string, key: string, values: Values = {}): string | null =>
  messageIn(languageByCode(languageCode), key)?.(values) ?? null;

/** Says messages to one reader. */
export type Say = (key: MessageKey, values?: Values) => string;

/**
 * Messages in the reader's language, their values in the reader's unit and clock and in the zone of the lab.
 * @example sayTo({ language: 'de', temperatureUnit: 'celsius', hourCycle: 'h23' }, 'Europe/Berlin')(
 *   'rule.fire-risk.name') // 'Brandgefahr'
 */
export const sayTo = (reader: ReaderSettings, timeZone: string): Say => {
  const { language, temperatureUnit, hourCycle } = reader;
  const format = { locale: localeOf(language), temperatureUnit, hourCycle, timeZone };
  return (key, values = {}) => messageOf(language, key, formatValues(values, format)) ?? key;
};
