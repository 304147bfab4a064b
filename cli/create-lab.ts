// What lab a process starts with: the one in its database, or that of a lab file. A file that cannot be read refuses
// the start; one that differs from what people changed on the screens since is reported. Nothing is overwritten.

import { readFileSync } from 'node:fs';
import { RULES_BY_PLACE } from '../alerts/watch/rules/rules-by-place.ts';
import { adoptLabFile } from '../lab/adopt-lab-file.ts';
import type { LabDatabase } from '../lab/database.ts';
import type { Lab } from '../lab/lab.ts';
import type { LabFileProblem } from '../lab/lab-file-problem.ts';
import type { LabRepository } from '../lab/lab-repository.ts';
import { readLabFile } from '../lab/read-lab-file.ts';
import { LANGUAGE_CODES } from '../words/load-languages.ts';
import { ProblemError, reasonOf } from '../wax/problem-error.ts';
import { problemOnConsole } from './console-words.ts';

/** Puts a lab into a database that has none. */
export type CreateLab = (database: LabDatabase, repository: LabRepository) => void;

/** Ends the start with status 2. */
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

/** A line for each problem: `file:line:column: path: what is wrong and what to do`. */
export const labFileProblemLines = ({ file, problems }: LabFileRefusal): readonly string[] =>
  problems.map((problem) =>
    [`${file}:${problem.line}:${problem.column}`, problem.path, problemOnConsole(problem)]
      .filter((part) => part !== '')
      .join(': '),
  );

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

/** Without a file the lab stays as it is in the database. */
export const createLabFrom =
  (file: string | null): CreateLab =>
  (database, repository) => {
    if (file === null) return;
    const adoption = adoptLabFile(database, repository, labOfFile(file), { replace: false });
    if (adoption.kind !== 'kept') return;
    console.warn(
      `waxwarden: --lab: ${file} differs from the lab that was changed on the screens (${adoption.differences.join(', ')}); ` +
        'the lab of the screens stays. Export it there to see it as a file.',
    );
  };
