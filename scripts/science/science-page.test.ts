import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import katex from 'katex';
import { describe, expect, it } from 'vitest';
import { CHAPTERS } from './chapters.ts';
import { otherFigures, waxFigures } from './figures.ts';
import { PLOTS } from './plots.ts';
import { documentedExports, openingComment } from './source-text.ts';
import { scienceFiles } from './written-files.ts';

const root = join(import.meta.dirname, '..', '..');
const read = (path: string) => readFileSync(join(root, path), 'utf8');

/** They check what is shown from outside, or wait for a screen; wax/README.md names them. */
const UNSHOWN = [
  'heat/conduction-series',
  'heat/thermostat-cycle',
  'heat/thermal-mass',
  'probes/guard-band',
  'numbers/normal-distribution',
];

describe('the science page', () => {
  it('is made of the present data and docstrings (if not: npm run make:science)', () => {
    for (const { path, content } of scienceFiles(read)) expect(read(path) === content, path).toBe(true);
  });

  it('has no plot that the code does not make', () => {
    const made = Object.keys(PLOTS).map((name) => `${name}.svg`);
    expect(readdirSync(join(root, 'docs', 'science')).sort()).toEqual(made.sort());
    expect(CHAPTERS.flatMap(({ plots }) => plots).sort()).toEqual(Object.keys(PLOTS).sort());
  });

  it('names a reference check that exists in every chapter', () => {
    for (const { checks, title } of CHAPTERS) {
      expect(checks.length, title).toBeGreaterThan(0);
      for (const check of checks)
        expect(existsSync(join(root, `tests/reference/${check}.test.ts`)), check).toBe(true);
    }
  });

  it('covers every file of the science but those that hold only plumbing, and those that no screen shows', () => {
    const plumbing = [
      'units',
      'iso',
      'numbers/median',
      'result',
      'problem-catalogue',
      'problem-error',
      'reading-guard',
      'own-entry',
      'relaxation/relaxation',
      'wax-class',
      'wax-class-checks',
    ];
    const files = ['wax', 'wax/heat', 'wax/numbers', 'wax/probes', 'wax/relaxation'].flatMap((folder) =>
      readdirSync(join(root, folder))
        .filter((name) => /^[^.]+\.ts$/.test(name))
        .map((name) => `${folder}/${name}`.replace('wax/', '').replace('.ts', '')),
    );
    expect([...CHAPTERS.flatMap((chapter) => chapter.files), ...plumbing, ...UNSHOWN].sort()).toEqual(
      files.sort(),
    );
    for (const file of UNSHOWN) expect(read('wax/README.md'), file).toContain(`\`${file}.ts\``);
  });

  it('names no function that nothing but tests and scripts calls, and omits what was left out', () => {
    const sourcesUnder = (folder: string): readonly string[] =>
      readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
        .filter((path) => /\.tsx?$/.test(path) && !/\.test\.tsx?$/.test(path))
        .map((path) => `${folder}/${path}`);
    const product = ['lab', 'alerts', 'collector', 'pipeline', 'dashboard', 'gateway', 'group', 'cli']
      .flatMap(sourcesUnder)
      .map(read)
      .join('\n');
    const science = sourcesUnder('wax').filter((path) => !UNSHOWN.some((file) => path === `wax/${file}.ts`));
    const page = read('docs/science.md');
    for (const { files, leftOut = [] } of CHAPTERS)
      for (const path of files.map((file) => `wax/${file}.ts`))
        for (const { name } of documentedExports(read(path))) {
          const named = new RegExp(`\\b${name}\\b`, 'g');
          const isCalled =
            named.test(product) ||
            science.some((elsewhere) => elsewhere !== path && read(elsewhere).search(named) >= 0) ||
            (read(path).match(named)?.length ?? 0) > 1;
          if (!leftOut.includes(name)) expect(isCalled, `${path} ${name}`).toBe(true);
          else expect(page).not.toContain(`| \`${name}\` |`);
        }
  });

  it('typesets every formula, in display and in the text', () => {
    for (const { formulas, title } of CHAPTERS) {
      expect(formulas.length, title).toBeGreaterThan(0);
      for (const { tex, where } of formulas) {
        const inline = [...where.matchAll(/\$([^$]+)\$/g)].map(([, words = '']) => words);
        expect(where.split('$').length % 2, where).toBe(1);
        for (const formula of [tex, ...inline])
          expect(katex.renderToString(formula, { throwOnError: true, strict: 'error' })).toContain('<math');
      }
    }
  });

  it('gives every figure a value, a standing and a source', () => {
    const rows = [...waxFigures(), ...otherFigures()].flatMap((group) => group.rows);
    expect(rows.length).toBeGreaterThan(100);
    for (const row of rows) {
      expect(row.value, row.name).toMatch(/^-?\d/);
      expect(row.standing, row.name).not.toBe('');
      expect(row.source.length, row.name).toBeGreaterThan(5);
    }
  });

  it('reads opening comments and docstrings as people wrote them', () => {
    const source =
      '// One.\n// Two.\n\n/** Doubles. */\nexport const twice = 2;\n/** Hidden. */\nconst no = 1;\n';
    expect(openingComment(source)).toBe('One. Two.');
    expect(documentedExports(source)).toEqual([{ name: 'twice', text: 'Doubles.' }]);
  });
});
