// What lab a process starts with: the one in its database, or that of a lab file. A file that cannot be read refuses
// the start; one that differs from what people changed on the screens since is reported. Nothing is overwritten.

import { adoptLabFile } from '../../lab/lab-file/adopt-lab-file.ts';
import type { LabDatabase } from '../../lab/database/database.ts';
import type { LabRepository } from '../../lab/database/lab-repository.ts';
import { problemOnConsole } from '../console/console-words.ts';
import { type LabFileRefusal, labOfFile } from './lab-of-file.ts';

/** Puts a lab into a database that has none. */
export type CreateLab = (database: LabDatabase, repository: LabRepository) => void;

/** A line for each problem: `file:line:column: path: what is wrong and what to do`. */
export const labFileProblemLines = ({ file, problems }: LabFileRefusal): readonly string[] =>
  problems.map((problem) =>
    [`${file}:${problem.line}:${problem.column}`, problem.path, problemOnConsole(problem)]
      .filter((part) => part !== '')
      .join(': '),
  );

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
