// What lab a house opens with: the one in its database, or that of a lab file. A file that cannot be read, or that
// contradicts what people changed on the screens since, refuses the start or is told; nothing is overwritten.

import { readFileSync } from 'node:fs';
import { RULES } from '../alerts/watch/rules/all-rules.ts';
import { adoptLabFile } from '../lab/adopt-lab-file.ts';
import type { LabDatabase } from '../lab/database.ts';
import type { Lab } from '../lab/lab.ts';
import type { LabFileProblem } from '../lab/lab-file-problem.ts';
import type { LabRepository } from '../lab/lab-repository.ts';
import { readLabFile } from '../lab/read-lab-file.ts';
import { problemOnConsole } from './console-words.ts';

/** Ends the start with status 2; each line names file, line, field and what was expected. */
export class LabFileRefusal extends Error {}

/** One line: `file:line:column: path: what is wrong and what to do`. */
const labFileProblemLine = (file: string, problem: LabFileProblem): string =>
  [`${file}:${problem.line}:${problem.column}`, problem.path, problemOnConsole(problem)]
    .filter((part) => part !== '')
    .join(': ');

export type Furnish = (database: LabDatabase, repository: LabRepository) => void;

export function labFrom(file: string): Lab {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (cause) {
    throw new LabFileRefusal(
      `--lab: ${file} cannot be read (${cause instanceof Error ? cause.message : cause})`,
      {
        cause,
      },
    );
  }
  const reading = readLabFile(text, RULES);
  if (reading.ok) {
    for (const { line, column, path, newKey } of reading.oldSpellings)
      console.warn(`waxwarden: ${file}:${line}:${column}: ${path} is read; its key is ${newKey} now.`);
    return reading.lab;
  }
  const [first, ...more] = reading.problems.map((problem) => labFileProblemLine(file, problem));
  throw new LabFileRefusal(`--lab: ${[first, ...more].join('; ')}`);
}

export const furnishFrom =
  (file: string | null): Furnish =>
  (database, repository) => {
    if (file === null) return;
    const adoption = adoptLabFile(database, repository, labFrom(file), { replace: false });
    if (adoption.kind !== 'kept') return;
    console.warn(
      `waxwarden: --lab: ${file} differs from the lab that was changed on the screens (${adoption.differences.join(', ')}); ` +
        'the screens keep their word. Export the lab there to see it as a file.',
    );
  };
