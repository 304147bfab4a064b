// Writes bytes behind the last ones of the newest segment and forces them to disk, at once or a little later; begins a new
// segment when one is long. A busy segment is filled with zeros ahead of them: a flush that need not write down a new length
// waits for no other file of the disk. Whoever looks for the end of a segment leaves the zeros out (segments.ts).

import { closeSync, fsyncSync, openSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { type JournalSegment, segmentAt } from './segments.ts';

export interface WriterOptions {
  /** A segment is closed when it is longer than this. */
  readonly segmentBytes: number;
  /** What was written is forced to disk at the latest after so long; 0: before `write` answers. */
  readonly syncMillis: number;
}

/** So much is filled ahead at most, and as much as the segment holds: that of a quiet lab stays small. */
const MOST_AHEAD_BYTES = 1024 * 1024;
const ZEROS = Buffer.alloc(64 * 1024);

export class SegmentWriter {
  readonly #folder: string;
  readonly #options: WriterOptions;
  #segment: JournalSegment;
  #file: FileHandle;
  #end: number;
  #synced: number;
  /** Length of the file of the segment, with the zeros ahead. */
  #length: number;
  #syncTimer: NodeJS.Timeout | null = null;
  /** A delayed flush failed: until one succeeds, nothing more is taken without it. */
  #hasFailed = false;

  private constructor(
    folder: string,
    segment: JournalSegment,
    {
      file,
      end,
      options,
    }: { readonly file: FileHandle; readonly end: number; readonly options: WriterOptions },
  ) {
    this.#folder = folder;
    this.#segment = segment;
    this.#options = options;
    this.#file = file;
    this.#end = end;
    this.#synced = end;
    this.#length = end - segment.base;
  }

  static async open(folder: string, segment: JournalSegment, options: WriterOptions): Promise<SegmentWriter> {
    const file = await openSegment(folder, segment);
    const end = segment.base + (await file.stat()).size;
    return new SegmentWriter(folder, segment, { file, end, options });
  }

  /** Offset after the last byte that was written: it outlives the process. */
  get end(): number {
    return this.#end;
  }

  /** Offset after the last byte that is surely on disk: it outlives a power cut. */
  get synced(): number {
    return this.#synced;
  }

  async startSegment(base: number): Promise<void> {
    const next = segmentAt(this.#folder, base);
    const file = await openSegment(this.#folder, next);
    await this.close();
    this.#segment = next;
    this.#file = file;
    this.#end = base;
    this.#synced = base;
    this.#length = 0;
  }

  async write(bytes: Buffer): Promise<void> {
    if (this.#end - this.#segment.base >= this.#options.segmentBytes) await this.startSegment(this.#end);
    const position = this.#end - this.#segment.base;
    try {
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await this.#file.write(bytes, done, bytes.length - done, position + done);
        done += bytesWritten;
      }
      if (position + bytes.length > this.#length) await this.#fillAhead(position + bytes.length);
      if (this.#options.syncMillis === 0 || this.#hasFailed) await this.#sync(this.#end + bytes.length);
    } catch (error) {
      // After a failed flush the system may believe that the pages are clean, so what was written is taken back
      // and must be written anew.
      await this.#file.truncate(position).catch(() => {});
      this.#length = position;
      throw error;
    }
    this.#end += bytes.length;
    if (this.#synced < this.#end)
      this.#syncTimer ??= setTimeout(() => void this.#syncLater(), this.#options.syncMillis);
  }

  async #fillAhead(length: number): Promise<void> {
    this.#length = length;
    const ahead = Math.min(length, MOST_AHEAD_BYTES, this.#options.segmentBytes - length);
    if (ahead < ZEROS.length) return;
    try {
      const zeros = Array<Buffer>(Math.floor(ahead / ZEROS.length)).fill(ZEROS);
      const { bytesWritten } = await this.#file.writev(zeros, length);
      this.#length += bytesWritten;
    } catch {
      // A disk that is nearly full has room for what is written alone.
      await this.#file.truncate(length);
    }
  }

  async #sync(end: number): Promise<void> {
    await this.#file.datasync();
    this.#synced = end;
    this.#hasFailed = false;
  }

  async #syncLater(): Promise<void> {
    this.#syncTimer = null;
    try {
      await this.#sync(this.#end);
    } catch {
      this.#hasFailed = true;
    }
  }

  async close(): Promise<void> {
    if (this.#syncTimer !== null) {
      clearTimeout(this.#syncTimer);
      await this.#syncLater();
    }
    if (this.#length > this.#end - this.#segment.base)
      await this.#file.truncate(this.#end - this.#segment.base);
    await this.#file.close();
  }
}

/** Opens for writing at any place; a new name is made durable in its folder. */
async function openSegment(folder: string, { file }: JournalSegment): Promise<FileHandle> {
  try {
    return await open(file, 'r+');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  const handle = await open(file, 'wx+', 0o600);
  const folderHandle = openSync(folder, 'r');
  try {
    fsyncSync(folderHandle);
  } finally {
    closeSync(folderHandle);
  }
  return handle;
}
