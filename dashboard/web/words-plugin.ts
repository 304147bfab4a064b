// Makes `virtual:words` of the folders of languages: which there are, and their messages in parts, so that a screen
// loads only what it uses. Messages become functions here, because the content policy allows no code from text.

import { join } from 'node:path';
import { readdirSync } from 'node:fs';
import type { Plugin } from 'vite';
import { compileModule } from '../../words/compile-module.ts';
import type { Messages } from '../../words/messages.ts';
import { type Language, readLanguages } from '../../words/load-languages.ts';
import { isWallWord } from './wall-words.ts';

const root = join(import.meta.dirname, '..', '..', 'words');

/** Which keys each part holds; none is in two of them. */
const PARTS: Readonly<Record<string, (key: string, file: string) => boolean>> = {
  wall: (key) => isWallWord(key),
  daily: (key, file) => (file === 'daily' && !isWallWord(key)) || /^rule\.[\w-]+\.name$/.test(key),
  'set-up': (key, file) => file === 'set-up' && !isWallWord(key),
  evidence: (_, file) => file === 'evidence',
  quality: (_, file) => file === 'quality',
  sheets: (_, file) => file === 'sheets',
  work: (_, file) => file === 'work',
  materials: (_, file) => file === 'materials',
  rules: (key, file) => file === 'figures' || /^rule\.[\w-]+\.(detects$|figures\.)/.test(key),
  sources: (_, file) => file === 'sources',
};

const VIRTUAL = 'virtual:words';
const PART_ID = /^virtual:words\/([\w-]+)\/([\w-]+)$/;

const languagesModule = (languages: readonly Language[]): string => {
  const entries = languages.map(({ code, name, locale }) => {
    const parts = Object.keys(PARTS).map(
      (part) => `${JSON.stringify(part)}: () => import(${JSON.stringify(`${VIRTUAL}/${code}/${part}`)})`,
    );
    return `${JSON.stringify(code)}: { name: ${JSON.stringify(name)}, locale: ${JSON.stringify(locale)}, parts: { ${parts.join(', ')} } }`;
  });
  return `export const languages = { ${entries.join(',\n')} };\n`;
};

const partOf = ({ files }: Language, part: string): Messages =>
  Object.fromEntries(
    Object.entries(files).flatMap(([file, messages]) =>
      Object.entries(messages).filter(([key]) => PARTS[part]?.(key, file)),
    ),
  );

export const words = (): Plugin => ({
  name: 'words',
  enforce: 'pre',
  resolveId: (id) => (id === VIRTUAL || PART_ID.test(id) ? `\0${id}` : null),
  load(id) {
    if (!id.startsWith(`\0${VIRTUAL}`)) return null;
    for (const file of readdirSync(root, { recursive: true, encoding: 'utf8' }))
      if (file.endsWith('.json')) this.addWatchFile(join(root, file));
    const languages = readLanguages(root);
    const [, code = '', part = ''] = PART_ID.exec(id.slice(1)) ?? [];
    const language = languages.get(code);
    if (language === undefined) return languagesModule([...languages.values()]);
    const inEnglish = languages.get('en');
    const messages = { ...(inEnglish && partOf(inEnglish, part)), ...partOf(language, part) };
    return compileModule(messages, language.locale);
  },
});
