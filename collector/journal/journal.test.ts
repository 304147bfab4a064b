// Laws of the journal over real files: whatever a crash or a bad sector leaves, what is read back was written.

import {
  closeSync,
  cpSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { JournalFailure } from './journal-failure.ts';
import { openJournal } from './open-journal.ts';
import { tailReader, wholeJournal } from './tail-reader.ts';

const root = mkdtempSync(join(tmpdir(), 'waxwarden-journal-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
let folders = 0;
const folder = (): string => join(root, String(folders++));

const instant = fc.integer({ min: 0, max: 4e12 }).map(epochMillis);
const name = fc.string({ minLength: 1, maxLength: 8, unit: 'grapheme' });
const anEntry: fc.Arbitrary<Entry> = fc.oneof(
  fc.record({ kind: fc.constant('tick' as const), receivedAt: instant }),
  fc.record({
    kind: fc.constant('gateway' as const),
    receivedAt: instant,
    gateway: name,
    online: fc.boolean(),
  }),
  fc.record({
    kind: fc.constant('readings' as const),
    receivedAt: instant,
    gateway: name,
    readings: fc.array(
      fc.record({
        probe: name,
        at: instant,
        celsius: fc.integer({ min: -50_000, max: 300_000 }).map((milli) => celsius(milli / 1000)),
        quality: fc.constantFrom('good' as const, 'suspect' as const),
      }),
      { maxLength: 5 },
    ),
  }),
);
const someEntries = fc.array(anEntry, { minLength: 1, maxLength: 8 });

const readAll = (path: string, from: number, end: number, bytes?: number) => {
  const reader = tailReader(path);
  const entries: Entry[] = [];
  const offsets: number[] = [];
  const damaged: { at: number; bytes: number }[] = [];
  for (let at = from; at < end; ) {
    const tail = reader.read(at, end, bytes);
    expect(tail.next).toBeGreaterThan(at);
    entries.push(...tail.entries);
    offsets.push(...tail.offsets);
    damaged.push(...tail.damaged);
    at = tail.next;
  }
  reader.close();
  return { entries, offsets, damaged };
};

const written = async (entries: readonly Entry[], segmentBytes?: number) => {
  const path = folder();
  const journal = await openJournal(path, segmentBytes === undefined ? {} : { segmentBytes });
  for (const entry of entries) await journal.append([entry]);
  const end = journal.end();
  await journal.close();
  return { path, end };
};
const onlyFile = (path: string): string => join(path, readdirSync(path)[0] ?? '');
const runs = { numRuns: 40 };

describe('the journal', () => {
  it('reads back what was appended, in order, whatever the sizes of segments and of reads', async () => {
    await fc.assert(
      fc.asyncProperty(
        someEntries,
        fc.integer({ min: 1, max: 400 }),
        fc.integer({ min: 1, max: 300 }),
        async (entries, segmentBytes, readBytes) => {
          const { path, end } = await written(entries, segmentBytes);
          expect(readAll(path, 0, end, readBytes)).toMatchObject({ entries, damaged: [] });
        },
      ),
      runs,
    );
  });

  it('goes on from any offset that it gave', async () => {
    await fc.assert(
      fc.asyncProperty(someEntries, async (entries) => {
        const { path, end } = await written(entries, 150);
        const { offsets } = readAll(path, 0, end);
        expect(offsets.at(-1)).toBe(end);
        for (const [index, offset] of offsets.entries())
          expect(readAll(path, offset, end).entries).toEqual(entries.slice(index + 1));
      }),
      runs,
    );
  });

  it('opens any prefix of its file to a prefix of its entries and reports what was cut', async () => {
    await fc.assert(
      fc.asyncProperty(someEntries, fc.nat(), async (entries, cut) => {
        const { path, end } = await written(entries);
        const { offsets } = readAll(path, 0, end);
        const file = onlyFile(path);
        const length = cut % (end + 1);
        writeFileSync(file, readFileSync(file).subarray(0, length));
        const journal = await openJournal(path);
        const whole = offsets.filter((offset) => offset <= length);
        const intactBytes = whole.at(-1) ?? 0;
        expect(journal.end()).toBe(intactBytes);
        expect(journal.tornTail).toEqual(
          intactBytes === length ? null : { at: intactBytes, bytes: length - intactBytes },
        );
        expect(readAll(path, 0, intactBytes).entries).toEqual(entries.slice(0, whole.length));
        const after = await journal.append([{ kind: 'tick', receivedAt: epochMillis(7) }]);
        expect(readAll(path, intactBytes, after).entries).toEqual([{ kind: 'tick', receivedAt: 7 }]);
        await journal.close();
      }),
      runs,
    );
  });

  it('detects any flipped byte, loses no entry but those it touches, and reports where', async () => {
    await fc.assert(
      fc.asyncProperty(
        someEntries,
        fc.nat(),
        fc.integer({ min: 1, max: 255 }),
        async (entries, where, mask) => {
          const { path, end } = await written(entries);
          const file = onlyFile(path);
          const bytes = readFileSync(file);
          const at = where % end;
          bytes[at] = (bytes[at] ?? 0) ^ mask;
          writeFileSync(file, bytes);
          const { offsets, damaged, entries: read } = readAll(path, 0, end);
          // A line feed that is flipped away joins two entries, so both are touched.
          const intact = entries.filter((entry) =>
            read.some((original) => JSON.stringify(original) === JSON.stringify(entry)),
          );
          expect(read.length).toBe(offsets.length);
          expect(read.length).toBeLessThan(entries.length);
          expect(read.length).toBeGreaterThanOrEqual(entries.length - 2);
          expect(intact.length).toBeGreaterThanOrEqual(read.length);
          expect(damaged.some((span) => span.at <= at && at < span.at + span.bytes)).toBe(true);
        },
      ),
      runs,
    );
  });

  it('gives every append its own offset when many share one flush', async () => {
    const path = folder();
    const journal = await openJournal(path);
    const ticks = Array.from({ length: 500 }, (_, index) => ({
      kind: 'tick' as const,
      receivedAt: epochMillis(index),
    }));
    const offsets = await Promise.all(ticks.map((tick) => journal.append([tick])));
    expect(readAll(path, 0, journal.end())).toEqual({ entries: ticks, offsets, damaged: [] });
    await journal.close();
  });

  it('deletes segments that are wholly applied and none that hold the offset', async () => {
    const entries = Array.from({ length: 20 }, (_, index) => ({
      kind: 'tick' as const,
      receivedAt: epochMillis(index),
    }));
    const { path, end } = await written(entries, 100);
    const { offsets } = readAll(path, 0, end);
    const journal = await openJournal(path);
    const before = readdirSync(path).length;
    await journal.dropBefore(offsets[9] ?? 0);
    expect(readdirSync(path).length).toBeLessThan(before);
    expect(readAll(path, offsets[9] ?? 0, end).entries).toEqual(entries.slice(10));
    await journal.dropBefore(end);
    expect(journal.end()).toBe(end);
    await journal.close();
    expect((await reopened(path)).end()).toBe(end);
  });

  it('answers a consumer that comes from before the oldest segment how much is gone', async () => {
    const entries = Array.from({ length: 20 }, (_, index) => ({
      kind: 'tick' as const,
      receivedAt: epochMillis(index),
    }));
    const { path, end } = await written(entries, 100);
    const journal = await openJournal(path);
    await journal.dropBefore(end);
    await journal.close();
    const { damaged } = readAll(path, 0, end);
    expect(damaged).toMatchObject([{ at: 0 }]);
  });

  it('goes on behind the offset that a consumer has applied when the journal itself is lost', async () => {
    const path = folder();
    const journal = await openJournal(path, { atLeast: 5000 });
    const after = await journal.append([{ kind: 'tick', receivedAt: epochMillis(1) }]);
    expect(after).toBeGreaterThan(5000);
    expect(readAll(path, 5000, after).entries).toHaveLength(1);
    await journal.close();
  });

  it('is on disk before an append answers, unless it may wait: then when its time is up, or it is closed', async () => {
    const tick: Entry = { kind: 'tick', receivedAt: epochMillis(1) };
    const strict = await openJournal(folder());
    const after = await strict.append([tick]);
    expect(strict.synced()).toBe(after);
    await strict.close();

    const soon = await openJournal(folder(), { syncMillis: 20 });
    const end = await soon.append([tick]);
    await expect.poll(() => soon.synced()).toBe(end);
    await soon.close();

    const path = folder();
    const late = await openJournal(path, { syncMillis: 3_600_000, segmentBytes: 100 });
    const offsets: number[] = [];
    for (let index = 0; index < 6; index += 1) offsets.push(await late.append([tick]));
    // A new segment is begun only when the one before it is on disk.
    expect(late.synced()).toBeGreaterThan(0);
    expect(late.synced()).toBeLessThan(late.end());
    expect(readAll(path, 0, late.end()).offsets).toEqual(offsets);
    await late.close();
    expect(late.synced()).toBe(late.end());
  });

  it('leaves what is filled ahead of a busy segment out of its end, after a crash, beside a writer and when it is closed', async () => {
    const path = folder();
    const journal = await openJournal(path);
    const large: Entry = {
      kind: 'gateway',
      receivedAt: epochMillis(1),
      gateway: 'g'.repeat(500),
      online: true,
    };
    const entries = Array<Entry>(400).fill(large);
    for (let index = 0; index < entries.length; index += 20)
      await journal.append(entries.slice(index, index + 20));
    const end = journal.end();
    expect(statSync(onlyFile(path)).size).toBeGreaterThan(end);
    const parts = [...wholeJournal(path)];
    expect(parts.flatMap((part) => part.entries)).toEqual(entries);
    expect(parts.flatMap((part) => part.damaged)).toEqual([]);

    const crashed = folder();
    cpSync(path, crashed, { recursive: true });
    const torn = folder();
    cpSync(path, torn, { recursive: true });
    await journal.close();
    expect(statSync(onlyFile(path)).size).toBe(end);

    const again = await openJournal(crashed);
    expect([again.end(), again.tornTail]).toEqual([end, null]);
    const after = await again.append([large]);
    expect(readAll(crashed, 0, after)).toMatchObject({ entries: [...entries, large], damaged: [] });
    await again.close();

    const file = openSync(onlyFile(torn), 'r+');
    writeSync(file, '1234abcd {"kind', end);
    closeSync(file);
    const cut = await reopened(torn);
    expect([cut.end(), cut.tornTail]).toEqual([end, { at: end, bytes: 15 }]);
  });

  it('refuses a folder that cannot be one, with what to do', async () => {
    const path = folder();
    writeFileSync(path, '');
    const opening = openJournal(join(path, 'journal'));
    await expect(opening).rejects.toBeInstanceOf(JournalFailure);
    await expect(opening).rejects.toMatchObject({ code: 'journal-not-writable' });
  });
});

const reopened = async (path: string) => {
  const journal = await openJournal(path);
  await journal.close();
  return journal;
};
