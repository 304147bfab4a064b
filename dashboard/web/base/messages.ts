// Every text that a person reads comes from a catalogue by a typed key; `{name}` places are filled in.
// One language is loaded at a time.

import { signal } from '@preact/signals';
import type catalogue from '../messages/en.json';
import type qualityCatalogue from '../messages/quality/en.json';
import type rulesCatalogue from '../messages/rules/en.json';
import type setUpCatalogue from '../messages/set-up/en.json';
import type workCatalogue from '../messages/work/en.json';
import { settings } from './settings.ts';

export type MessageKey =
  | keyof typeof catalogue
  | keyof typeof setUpCatalogue
  | keyof typeof qualityCatalogue
  | keyof typeof rulesCatalogue
  | keyof typeof workCatalogue;
type Catalogue = Readonly<Record<string, string>>;
/** Each part is loaded with the screens that say it: a wall must not wait for the words of set-up. */
export type Part = 'daily' | 'set-up' | 'quality' | 'work' | 'rules' | 'sources';

const loaders: Readonly<Record<'en' | 'de', Readonly<Record<Part, () => Promise<{ default: Catalogue }>>>>> =
  {
    en: {
      daily: () => import('../messages/en.json'),
      'set-up': () => import('../messages/set-up/en.json'),
      quality: () => import('../messages/quality/en.json'),
      work: () => import('../messages/work/en.json'),
      rules: () => import('../messages/rules/en.json'),
      // Sources are written in English; see source-text.ts.
      sources: () => Promise.resolve({ default: {} }),
    },
    de: {
      daily: () => import('../messages/de.json'),
      'set-up': () => import('../messages/set-up/de.json'),
      quality: () => import('../messages/quality/de.json'),
      work: () => import('../messages/work/de.json'),
      rules: () => import('../messages/rules/de.json'),
      sources: () => import('../messages/sources/de.json'),
    },
  };
const wanted = new Set<Part>(['daily']);

const messages = signal<Catalogue | null>(null);

export const loadMessages = async (): Promise<void> => {
  const language = settings.value.language;
  const loaded = await Promise.all([...wanted].map((part) => loaders[language][part]()));
  messages.value = Object.assign({}, ...loaded.map((one) => one.default));
  document.documentElement.lang = language;
};

export const loadWords = (parts: readonly Part[]): Promise<void> => {
  for (const part of parts) wanted.add(part);
  return loadMessages();
};

export type Places = Readonly<Record<string, string | number>>;

const fill = (template: string, places: Places): string =>
  template.replace(/\{(\w+)\}/g, (whole, name: string) => String(places[name] ?? whole));

export const t = (key: MessageKey, places: Places = {}): string => fill(messages.value?.[key] ?? '', places);

/** For words whose key is built from what the server says; an unknown word is shown as it came. */
export const word = (group: string, name: string): string => messages.value?.[`${group}.${name}`] ?? name;

interface NamedWax {
  readonly id: string;
  readonly name: string;
}

const named = (group: string, wax: NamedWax): string => {
  const known = word(group, wax.id);
  return known === wax.id ? wax.name : known;
};

/** The class in the reader's language; a class that the catalogue does not know keeps the server's name. */
export const waxName = (wax: NamedWax): string => named('wax', wax);
/** As short as the wall needs it. */
export const shortWaxName = (wax: NamedWax): string => named('wax-short', wax);
