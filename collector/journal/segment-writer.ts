// Writes bytes behind the last ones of the newest segment and forces them to disk; begins a new segment when one is long.

import { closeSync, fsyncSync, openSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { type JournalSegment, segmentAt } from './segments.ts';

export class SegmentWriter {
  readonly #folder: string;
  readonly #segmentBytes: number;
  #segment: JournalSegment;
  #file: FileHandle;
  #end: number;

  private constructor(
    folder: string,
    segment: JournalSegment,
    {
      file,
      end,
      segmentBytes,
    }: { readonly file: FileHandle; readonly end: number; readonly segmentBytes: number },
  ) {
    this.#folder = folder;
    this.#segment = segment;
    this.#segmentBytes = segmentBytes;
    this.#file = file;
    this.#end = end;
  }

  static async open(folder: string, segment: JournalSegment, segmentBytes: number): Promise<SegmentWriter> {
    const file = await openSegment(folder, segment);
    const end = segment.base + (await file.stat()).size;
    return new SegmentWriter(folder, segment, { file, end, segmentBytes });
  }

  /** Offset after the last byte that is surely on disk. */
  get end(): number {
    return this.#end;
  }

  async startSegment(base: number): Promise<void> {
    const next = segmentAt(this.#folder, base);
    const file = await openSegment(this.#folder, next);
    await this.#file.close();
    this.#segment = next;
    this.#file = file;
    this.#end = base;
  }

  async write(bytes: Buffer): Promise<void> {
    if (this.#end - this.#segment.base >= this.#segmentBytes) await this.startSegment(this.#end);
    const position = this.#end - this.#segment.base;
    try {
      for (let done = 0; done < bytes.length; ) {
        const { bytesWritten } = await this.#file.write(bytes, done, bytes.length - done, position + done);
        done += bytesWritten;
      }
      await this.#file.datasync();
    } catch (error) {
      // After a failed flush the system may believe that the pages are clean, so what was written is taken back
      // and must be written anew.
      await this.#file.truncate(position).catch(() => {});
      throw error;
    }
    this.#end += bytes.length;
  }

  close(): Promise<void> {
    return this.#file.close();
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
