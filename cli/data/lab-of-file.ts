// A lab file that the command line names, or every problem that it has.

import { readFileSync } from 'node:fs';
import { RULES_BY_PLACE } from '../../alerts/watch/rules/rules-by-place.ts';
import type { Lab } from '../../lab/lab.ts';
import type { LabFileProblem } from '../../lab/lab-file/lab-file-problem.ts';
import { readLabFile } from '../../lab/lab-file/read-lab-file.ts';
import { LANGUAGE_CODES } from '../../words/load-languages.ts';
import { ProblemError, reasonOf } from '../../wax/problem-error.ts';

/** Ends the start, or the verb, with status 2. */
export class LabFileRefusal extends Error {
  readonly file: string;
  readonly problems: readonly LabFileProblem[];
  constructor(file: string, problems: readonly LabFileProblem[]) {
    super(`${file}: ${problems.map(({ line, code }) => `${line} ${code}`).join(', ')}`);
    this.name = 'LabFileRefusal';
    this.file = file;
    this.problems = problems;
  }
}

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (cause) {
    throw new ProblemError('lab-file-not-opened', { file, reason: reasonOf(cause) }, cause);
  }
}

export function labOfFile(file: string): Lab {
  const reading = readLabFile(textOf(file), { rules: RULES_BY_PLACE, languages: LANGUAGE_CODES });
  if (!reading.ok) throw new LabFileRefusal(file, reading.problems);
  for (const { line, column, path, newKey } of reading.oldSpellings)
    console.warn(`waxwarden: ${file}:${line}:${column}: ${path} is read; its key is ${newKey} now.`);
  return reading.lab;
}
