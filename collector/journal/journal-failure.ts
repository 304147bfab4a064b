// Thrown when the disk refuses the journal. Nothing of the failed append stays in the journal.

export type JournalFailureCode = 'journal-disk-full' | 'journal-not-writable' | 'journal-in-use';

export class JournalFailure extends Error {
  readonly code: JournalFailureCode;
  constructor(code: JournalFailureCode, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = 'JournalFailure';
    this.code = code;
  }
}

export const journalFailure = (folder: string, cause: unknown): JournalFailure => {
  const code = (cause as NodeJS.ErrnoException).code;
  return code === 'ENOSPC' || code === 'EDQUOT' || code === 'EFBIG'
    ? new JournalFailure(
        'journal-disk-full',
        `The disk of the journal ${folder} is full: nothing is acknowledged until there is room. Make room.`,
        { cause },
      )
    : new JournalFailure(
        'journal-not-writable',
        `The journal ${folder} cannot be written (${code ?? String(cause)}): nothing is acknowledged until it can. Check the folder's owner and the disk.`,
        { cause },
      );
};
