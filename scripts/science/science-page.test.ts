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

describe('the science page', () => {
  it('is what the data and the docstrings say now (if not: npm run make:science)', () => {
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

  it('speaks of every file of the science but those that hold only names and plumbing', () => {
    const plumbing = [
      'units',
      'median',
      'result',
      'problem-catalogue',
      'problem-error',
      'reading-guard',
      'own-entry',
      'relaxation',
      'wax-class',
      'wax-class-checks',
    ];
    const files = ['wax', 'wax/probes'].flatMap((folder) =>
      readdirSync(join(root, folder))
        .filter((name) => /^[^.]+\.ts$/.test(name))
        .map((name) => `${folder}/${name}`.replace('wax/', '').replace('.ts', '')),
    );
    expect([...CHAPTERS.flatMap((chapter) => chapter.files), ...plumbing].sort()).toEqual(files.sort());
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
