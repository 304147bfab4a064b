// `node scripts/check-words.mjs`: refuses words that docs/glossary.md replaces by others, in code, documents and screens,
// and a second exported type of the same name. The words and the exceptions are in the tables of the glossary alone.

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { PRODUCT, root } from './ready.mjs';

const LOOKED_AT = [...PRODUCT, 'tests', 'scripts', 'docs', 'README.md', 'CONTRIBUTING.md', 'SECURITY.md'];
/** The page of the words itself, the list of those that changed, and what is written by a program from other files. */
const NOT_LOOKED_AT =
  /^docs\/(glossary\.md|decisions\/|generated\/|science\/|screenshots\/)|^tests\/data\/|^scripts\/check-words/;
const LOOKED_AT_KINDS = /\.(tsx?|mjs|cjs|md|json|css)$/;

/** @returns {readonly (readonly string[])[]} the rows of the table below a heading, cell by cell */
const tableBelow = (page, heading) =>
  (page.split(`\n## ${heading}\n`)[1]?.split('\n## ')[0] ?? '')
    .split('\n')
    .filter((line) => line.startsWith('| ') && !line.startsWith('|---'))
    .slice(1)
    .map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );

const listed = (cell) => [...cell.matchAll(/`([^`]+)`/g)].map(([, word]) => word ?? '');

/** @returns {{ word: string, instead: string, allowed: readonly string[], folders: readonly string[] }[]} */
export function forbiddenWords(page) {
  const exceptions = tableBelow(page, 'Where an old word stays').map(([words = '', folders = '']) => ({
    words: listed(words),
    folders: listed(folders),
  }));
  return tableBelow(page, 'Words that are not used').flatMap(([words = '', instead = '', allowed = '']) =>
    listed(words).map((word) => ({
      word,
      instead,
      allowed: listed(allowed),
      folders: exceptions
        .filter((exception) => exception.words.includes(word))
        .flatMap((exception) => exception.folders),
    })),
  );
}

/** Names of code as words: `heardAt`, `HEARD_AT` and `heard-at` all hold the word "heard". */
const asWords = (line) =>
  line
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .replace(/[_-]/g, ' ')
    .toLowerCase();

/** @returns {readonly string[]} the forbidden words that a line holds */
export function wordsIn(line, forbidden, path = '') {
  const text = ` ${asWords(line).replace(/[^\p{L}\p{N}]+/gu, ' ')} `;
  return forbidden
    .filter(({ folders }) => !folders.some((folder) => path.startsWith(folder)))
    .filter(({ word, allowed }) => {
      const rest = allowed.reduce((left, phrase) => left.replaceAll(` ${phrase} `, ' '), text);
      return rest.includes(` ${word} `);
    })
    .map(({ word }) => word);
}

const filesUnder = (path) =>
  /\.\w+$/.test(path)
    ? [path]
    : readdirSync(join(root, path), { recursive: true, encoding: 'utf8' }).map((name) => `${path}/${name}`);
const isCode = (path) => /\.tsx?$/.test(path);
const read = (path) => readFileSync(join(root, path), 'utf8');

/** Exported types of the product by name, with the files that export them. Pure over the texts of the files. */
export function doubleTypes(files) {
  const places = new Map();
  for (const { path, text } of files)
    for (const [, name = ''] of text.matchAll(/^export (?:interface|type|class|enum) (\w+)/gm))
      places.set(name, [...(places.get(name) ?? []), path]);
  return [...places]
    .filter(([, paths]) => paths.length > 1)
    .map(([name, paths]) => `${name}: ${paths.join(', ')}`);
}

function complaints() {
  const forbidden = forbiddenWords(read('docs/glossary.md'));
  const paths = LOOKED_AT.flatMap(filesUnder).filter(
    (path) => LOOKED_AT_KINDS.test(path) && !NOT_LOOKED_AT.test(path),
  );
  const used = paths.flatMap((path) =>
    read(path)
      .split('\n')
      .flatMap((line, index) =>
        wordsIn(line, forbidden, path).map((word) => {
          const { instead } = forbidden.find((entry) => entry.word === word) ?? {};
          return `${path}:${index + 1}: "${word}"; use instead: ${instead}`;
        }),
      ),
  );
  const isProduct = (path) =>
    PRODUCT.includes(path.split('/')[0]) && isCode(path) && !path.includes('.test.');
  const types = doubleTypes(paths.filter(isProduct).map((path) => ({ path, text: read(path) })));
  return [...used, ...types.map((type) => `two exported types share a name: ${type}`)];
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const found = complaints();
  for (const complaint of found) console.error(complaint);
  if (found.length > 0) console.error(`${found.length} in all. The words are in docs/glossary.md.`);
  process.exit(found.length > 0 ? 1 : 0);
}
