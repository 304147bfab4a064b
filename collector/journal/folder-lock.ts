// Keeps a second process off the journal: two writers would overwrite each other's entries.
// The mark of a process that was killed is recognised and taken over.

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { JournalFailure } from './journal-failure.ts';

const isAlive = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // It lives but belongs to someone else.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
};

/** Answers the function that gives the folder free. */
export const lockFolder = (folder: string): (() => void) => {
  const file = join(folder, 'writer.pid');
  const release = () => rmSync(file, { force: true });
  try {
    writeFileSync(file, String(process.pid), { flag: 'wx' });
    return release;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
  const holder = Number(readFileSync(file, 'utf8'));
  // Our own number is a mark from before: in a container every start has the same one.
  if (holder > 0 && holder !== process.pid && isAlive(holder))
    throw new JournalFailure('journal-in-use', { process: String(holder), folder });
  writeFileSync(file, String(process.pid));
  return release;
};
