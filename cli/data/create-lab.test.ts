import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ProblemError } from '../../wax/problem-error.ts';
import { problemOnConsole } from '../console/console-words.ts';
import { labFileProblemLines } from './create-lab.ts';
import { LabFileRefusal, labOfFile } from './lab-of-file.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-lab-file-'));
});
afterEach(() => rmSync(folder, { recursive: true }));
const refusalOf = (file: string): unknown => {
  try {
    return labOfFile(file);
  } catch (error) {
    return error;
  }
};

describe('the lab file of a start', () => {
  it('that is not there is refused by its name', () => {
    const file = join(folder, 'missing.yaml');
    const error = refusalOf(file);
    if (!(error instanceof ProblemError)) throw error;
    expect(error.code).toBe('lab-file-not-opened');
    expect(problemOnConsole(error.problem)).toContain(`The lab file ${file} cannot be opened (ENOENT`);
  });

  it('that is wrong is refused with a line for each problem, each with its place', () => {
    const file = join(folder, 'wrong.yaml');
    writeFileSync(file, 'site:\n  name: Lab\n  colour: red\nstations: 7\n');
    const error = refusalOf(file);
    if (!(error instanceof LabFileRefusal)) throw error;
    const lines = labFileProblemLines(error);
    expect(lines.length).toBeGreaterThan(1);
    expect(lines.every((line) => /:\d+:\d+: \S/.test(line) && line.startsWith(file))).toBe(true);
    expect(lines.some((line) => line.includes('colour'))).toBe(true);
  });
});
