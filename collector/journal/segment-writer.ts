// Writes bytes behind the last ones of the newest segment and forces them to disk, at once or a little later; begins a new
// segment when one is long.

import { closeSync, fsyncSync, openSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { type JournalSegment, segmentAt } from './segments.ts';

export interface WriterOptions {
  /** A segment is closed when it is longer than this. */
  readonly segmentBytes: number;
  /** What was written is forced to disk at the latest after so long; 0: before `write` answers. */
  readonly syncMillis: number;
}

export class SegmentWriter {
  readonly #folder: string;
  readonly #options: WriterOptions;
  #segment: JournalSegment;
  #file: FileHandle;
  #end: number;
  #synced: number;
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
  }

  async write(bytes: Buffer): Promise<void> {
    if (this.#end - this.#segment.base >= this.#options.segmentBytes) await this.startSegment(this.#end);
    const position = this.#end - this.#segment.base;
    try {
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await this.#file.write(bytes, done, bytes.length - done, position + done);
        done += bytesWritten;
      }
      if (this.#options.syncMillis === 0 || this.#hasFailed) await this.#sync(this.#end + bytes.length);
    } catch (error) {
      // After a failed flush the system may believe that the pages are clean, so what was written is taken back
      // and must be written anew.
      await this.#file.truncate(position).catch(() => {});
      throw error;
    }
    this.#end += bytes.length;
    if (this.#synced < this.#end)
      this.#syncTimer ??= setTimeout(() => void this.#syncLater(), this.#options.syncMillis);
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
