// Small files that must outlive a power cut: written beside, forced to disk, renamed, and the folder forced too, so
// that the name never leads to half a file or an empty one.

import {
  chmodSync,
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, resolve } from 'node:path';

/** Waits until what was written to a file, or the names in a folder, lie on the disk itself. */
export function forceToDisk(path: string): void {
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}

const OWNER_ALONE = 0o700;

/** Makes a folder and those above it, for its owner alone; each new name is forced to disk in the folder above it. */
export function makeFolder(folder: string): void {
  const path = resolve(folder);
  const first = mkdirSync(path, { recursive: true, mode: OWNER_ALONE });
  if (first === undefined) return;
  for (let made = path; made.length >= first.length; made = dirname(made)) forceToDisk(dirname(made));
}

/** Takes the folder's rights from everybody but its owner; one that belongs to another user stays as it is. */
export function closeToOthers(folder: string): void {
  const { mode, uid } = statSync(folder);
  if ((mode & 0o077) !== 0 && uid === process.getuid?.()) chmodSync(folder, mode & OWNER_ALONE);
}

/** The folder is made where it is missing. */
export function writeDurably(file: string, content: string | Uint8Array, mode = 0o600): void {
  makeFolder(dirname(file));
  const partial = `${file}.partial`;
  writeFileSync(partial, content, { mode, flush: true });
  renameSync(partial, file);
  forceToDisk(dirname(resolve(file)));
}

export interface KeptOnce<Value> {
  /** Null for a value that is not one. */
  readonly read: (json: unknown) => Value | null;
  readonly make: () => Value;
  /** Called with the name under which the damaged file lies beside; null when it held nothing. */
  readonly onReplaced?: (setAside: string | null) => void;
}

/**
 * What was made once and must stay the same, kept as JSON for its owner alone. A file that a power cut left empty, or
 * that is damaged, is replaced by a new value, so that no start fails for ever; what it held is set aside.
 */
export function keepOnce<Value>(file: string, { read, make, onReplaced }: KeptOnce<Value>): Value {
  const isThere = existsSync(file);
  const text = isThere ? readFileSync(file, 'utf8') : '';
  const present = parseValue(text, read);
  if (present !== null) return present;
  const isBlank = text.replaceAll('\0', '').trim() === '';
  const setAside = isBlank ? null : `${file}.damaged`;
  if (setAside !== null) renameSync(file, setAside);
  const value = make();
  writeDurably(file, `${JSON.stringify(value)}\n`);
  if (isThere) onReplaced?.(setAside);
  return value;
}

function parseValue<Value>(text: string, read: (json: unknown) => Value | null): Value | null {
  try {
    return read(JSON.parse(text));
  } catch {
    return null;
  }
}
