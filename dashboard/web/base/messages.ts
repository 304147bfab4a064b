// Every text that a person reads comes from the folders of words by a typed key; its places are filled in.
// One language is loaded at a time.

import { signal } from '@preact/signals';
import { languages, type Part, type WebMessages } from 'virtual:words';
import type { MessageKey } from '../../../words/message-key.ts';
import type { Values } from '../../../words/quantity.ts';
import { settings } from './settings.ts';

export type { MessageKey, Part };

/** The words of the wall; each other screen loads more. */
const wanted = new Set<Part>(['wall']);

const messages = signal<WebMessages | null>(null);

/** The load that was started last; only what it brings is shown. */
let newest: Promise<void> = Promise.resolve();

export const loadMessages = (): Promise<void> => {
  const load = async (): Promise<void> => {
    const language = settings.value.language;
    const parts = (languages[language] ?? languages.en)?.parts;
    if (parts === undefined) return;
    const loaded = await Promise.all([...wanted].map((part) => parts[part]()));
    if (newest !== current) return newest;
    messages.value = Object.assign({}, ...loaded.map((part) => part.default));
    document.documentElement.lang = language;
  };
  const current = load();
  newest = current;
  return current;
};

export const loadWords = (parts: readonly Part[]): Promise<void> => {
  for (const part of parts) wanted.add(part);
  return loadMessages();
};

const say = (key: string, values: Values): string | undefined => {
  const message = messages.value?.[key];
  return typeof message === 'function' ? message(values) : message;
};

/** Codes of the languages that there are words for. */
export const LANGUAGES: readonly string[] = Object.keys(languages);

/** What a language calls itself. */
export const languageName = (code: string): string => languages[code]?.name ?? code;

/** BCP 47; the habits of numbers and dates. */
export const localeOf = (code: string): string => languages[code]?.locale ?? 'en-GB';

export const t = (key: MessageKey, values: Values = {}): string => say(key, values) ?? '';

/** For words whose key is built from the server's answer; an unknown word is shown as it came. */
export const word = (group: string, name: string): string => say(`${group}.${name}`, {}) ?? name;

/** What a rule is called, in every list and setting; a wall has the short names alone. */
export const ruleName = (rule: string): string => say(`rule.${rule}.name`, {}) ?? shortRuleName(rule);
/** Which condition the rule detects. */
export const ruleDetects = (rule: string): string => say(`rule.${rule}.detects`, {}) ?? '';
/** A figure that this rule alone has; null where the rules share its text. */
export const ruleFigure = (rule: string, name: string): string | null =>
  say(`rule.${rule}.figures.${name}`, {}) ?? null;
/** As short as the wall needs it. */
export const shortRuleName = (rule: string): string => say(`rule.${rule}.short`, {}) ?? rule;
/** What to do first, as short as the wall needs it; empty where nothing is to be done. */
export const briefAction = (rule: string): string => say(`rule.${rule}.brief`, {}) ?? '';

interface NamedWax {
  readonly id: string;
  readonly name: string;
}

const nameWax = (group: string, wax: NamedWax): string => {
  const translated = word(group, wax.id);
  return translated === wax.id ? wax.name : translated;
};

/** The class in the reader's language; a class that is not in the catalogue keeps the server's name. */
export const waxName = (wax: NamedWax): string => nameWax('wax', wax);
/** As short as the wall needs it. */
export const shortWaxName = (wax: NamedWax): string => nameWax('wax-short', wax);
