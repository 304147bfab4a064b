// Thrown when the disk refuses the journal. Nothing of the failed append stays in the journal.

import { ProblemError } from '../../wax/problem-error.ts';

export type JournalFailureCode = 'journal-disk-full' | 'journal-not-writable';

export class JournalFailure extends ProblemError<JournalFailureCode> {}

const DISK_FULL: readonly (string | undefined)[] = ['ENOSPC', 'EDQUOT', 'EFBIG'];

export const journalFailure = (folder: string, cause: unknown): JournalFailure => {
  const { code } = cause as NodeJS.ErrnoException;
  return DISK_FULL.includes(code)
    ? new JournalFailure('journal-disk-full', { folder }, cause)
    : new JournalFailure('journal-not-writable', { folder, reason: code ?? String(cause) }, cause);
};
