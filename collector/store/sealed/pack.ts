// A pack holds what several series measured in one span: columns of times that they share, and for each series which
// of those instants it has, its qualities and its values. Every part is compressed by itself, so that one
// series is read without the others, and carries a checksum. The directory holds where each part lies.

import { promisify } from 'node:util';
import { brotliCompress, brotliDecompressSync, constants, crc32 } from 'node:zlib';
import { ByteReader, ByteWriter } from './byte-stream.ts';
import { DamagedReadings, readWhole } from './damaged-readings.ts';
import { decodeRows, encodeRows } from './row-bytes.ts';
import type { SeriesRows } from './series-rows.ts';
import { shareTimes } from './shared-times.ts';
import { decodeTimes, timeEncodings } from './times.ts';

export interface PackSeries extends SeriesRows {
  readonly series: number;
}

export interface PackPart {
  /** Within the body, in bytes. */
  readonly offset: number;
  readonly length: number;
  readonly checksum: number;
}

export interface PackMember extends PackPart {
  readonly series: number;
  readonly column: number;
  readonly count: number;
}

export interface PackDirectory {
  readonly columns: readonly PackPart[];
  readonly members: readonly PackMember[];
}

export interface Pack {
  readonly directory: Uint8Array;
  readonly body: Uint8Array;
}

const inThreadPool = promisify(brotliCompress);
/** Of the platform's compressors the smallest result on a day of half bytes, and soon enough once an hour. */
const compress = (bytes: Uint8Array): Promise<Uint8Array> =>
  inThreadPool(bytes, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: 11,
      [constants.BROTLI_PARAM_LGWIN]: 18,
      [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
    },
  });

/** Each of `all` has at least one row. Runs off the main thread but for the coding of numbers. */
export async function encodePack(all: readonly PackSeries[]): Promise<Pack> {
  const { columns, columnOf } = shareTimes(all.map(({ times }) => times));
  const columnBytes = await Promise.all(columns.map(shortestTimes));
  const memberBytes = await Promise.all(
    all.map((rows, index) => compress(encodeRows(rows, columns[columnOf[index] ?? 0] ?? rows.times))),
  );
  return assemble(
    columnBytes,
    all.map(({ series, times }, index) => ({
      series,
      column: columnOf[index] ?? 0,
      count: times.length,
      bytes: memberBytes[index] ?? new Uint8Array(),
    })),
  );
}

const shortestTimes = async (times: Float64Array): Promise<Uint8Array> => {
  const encodings = await Promise.all(timeEncodings(times).map(compress));
  return encodings.reduce((shortest, bytes) => (bytes.length < shortest.length ? bytes : shortest));
};

interface MemberBytes extends Pick<PackMember, 'series' | 'column' | 'count'> {
  readonly bytes: Uint8Array;
}

function assemble(columns: readonly Uint8Array[], members: readonly MemberBytes[]): Pack {
  const [directory, body] = [new ByteWriter(), new ByteWriter()];
  const part = (bytes: Uint8Array): void => {
    directory.whole(bytes.length);
    directory.whole(crc32(bytes));
    body.bytes(bytes);
  };
  directory.whole(columns.length);
  for (const bytes of columns) part(bytes);
  directory.whole(members.length);
  for (const { series, column, count, bytes } of members) {
    directory.whole(series);
    directory.whole(column);
    directory.whole(count);
    part(bytes);
  }
  directory.whole(crc32(directory.done()));
  return { directory: directory.done(), body: body.done() };
}

/**
 * That of a pack of an earlier version ends without a checksum.
 * @throws DamagedReadings where the bytes are not those of a directory
 */
export const readDirectory = (bytes: Uint8Array): PackDirectory => readWhole(() => directoryOf(bytes));

function directoryOf(bytes: Uint8Array): PackDirectory {
  const input = new ByteReader(bytes);
  let offset = 0;
  const part = (): PackPart => {
    const [length, checksum] = [input.whole(), input.whole()];
    offset += length;
    return { offset: offset - length, length, checksum };
  };
  const columns = Array.from({ length: input.whole() }, part);
  const members = Array.from({ length: input.whole() }, () => ({
    series: input.whole(),
    column: input.whole(),
    count: input.whole(),
    ...part(),
  }));
  // One changed bit of a count would hide what is behind it, of a column give readings the instants of others.
  const read = bytes.subarray(0, bytes.length - input.rest);
  const isSound = input.rest === 0 || (input.whole() === crc32(read) && input.rest === 0);
  if (!isSound || members.some(({ column }) => column >= columns.length))
    throw new DamagedReadings('the directory does not agree with itself');
  return { columns, members };
}

/**
 * By its checksums alone, without decoding.
 * @throws DamagedReadings where one does not agree
 */
export function checkPack({ directory, body }: Pack): void {
  const { columns, members } = readDirectory(directory);
  let filled = 0;
  for (const { checksum, length, offset } of [...columns, ...members]) {
    filled += length;
    if (crc32(body.subarray(offset, offset + length)) !== checksum)
      throw new DamagedReadings('the checksum does not agree');
  }
  if (filled !== body.length) throw new DamagedReadings(`its parts take ${filled} of ${body.length} bytes`);
}

/** The same pack without some series, and without the columns that no other needs; null when nothing is left. */
export function packWithout({ directory, body }: Pack, leaving: ReadonlySet<number>): Pack | null {
  const { columns, members } = readDirectory(directory);
  const staying = members.filter(({ series }) => !leaving.has(series));
  if (staying.length === 0) return null;
  const bytesOf = ({ offset, length }: PackPart): Uint8Array => body.subarray(offset, offset + length);
  const used = [...new Set(staying.map(({ column }) => column))];
  return assemble(
    used.flatMap((column) => columns[column] ?? []).map(bytesOf),
    staying.map((member) => ({ ...member, column: used.indexOf(member.column), bytes: bytesOf(member) })),
  );
}

function decompress(bytes: Uint8Array, { checksum }: PackPart): Uint8Array {
  if (crc32(bytes) !== checksum) throw new DamagedReadings('the checksum does not agree');
  try {
    return brotliDecompressSync(bytes);
  } catch (cause) {
    throw new DamagedReadings('it cannot be decompressed', cause);
  }
}

export const decodeColumn = (bytes: Uint8Array, part: PackPart): Float64Array =>
  readWhole(() => decodeTimes(decompress(bytes, part)));

export const decodeMember = (bytes: Uint8Array, part: PackPart, column: Float64Array): SeriesRows =>
  readWhole(() => decodeRows(decompress(bytes, part), column));
