import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { closeToOthers, keepOnce, makeFolder, writeDurably } from './durable-file.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-durable-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const modeOf = (path: string): number => statSync(path).mode & 0o777;

describe('a file that is written durably', () => {
  it('appears whole under its name, for its owner alone, in folders that are closed to others', () => {
    const file = join(folder, 'deep', 'er', 'key.json');
    writeDurably(file, 'secret');
    expect(readFileSync(file, 'utf8')).toBe('secret');
    expect(existsSync(`${file}.partial`)).toBe(false);
    expect([modeOf(file), modeOf(join(folder, 'deep')), modeOf(join(folder, 'deep', 'er'))]).toEqual([
      0o600, 0o700, 0o700,
    ]);
  });

  it('keeps what it was while the new text cannot be written', () => {
    const file = join(folder, 'key.json');
    writeDurably(file, 'before');
    mkdirSync(`${file}.partial`);
    expect(() => writeDurably(file, 'after')).toThrow();
    expect(readFileSync(file, 'utf8')).toBe('before');
  });
});

describe('a value that is kept once', () => {
  let replaced: (string | null)[];
  let made: number;
  const keep = () =>
    keepOnce<{ readonly number: number }>(join(folder, 'value.json'), {
      read: (json) => (typeof (json as { number?: unknown }).number === 'number' ? (json as never) : null),
      make: () => {
        made += 1;
        return { number: made };
      },
      onReplaced: (setAside) => replaced.push(setAside),
    });
  beforeEach(() => {
    replaced = [];
    made = 0;
  });

  it('is made at the first start and the same at every later one', () => {
    expect([keep(), keep()]).toEqual([{ number: 1 }, { number: 1 }]);
    expect(replaced).toEqual([]);
  });

  it.each([
    ['empty', ''],
    ['filled with zero bytes', '\0\0\0\0'],
  ])('is made anew when a power cut left its file %s, and the caller is notified', (_, text) => {
    writeFileSync(join(folder, 'value.json'), text);
    expect([keep(), keep()]).toEqual([{ number: 1 }, { number: 1 }]);
    expect(replaced).toEqual([null]);
  });

  it.each(['{"number":', '{"number":"seven"}', 'null', '[]'])(
    'is made anew when its file holds %s, which is set aside',
    (text) => {
      writeFileSync(join(folder, 'value.json'), text);
      expect(keep()).toEqual({ number: 1 });
      expect(replaced).toEqual([join(folder, 'value.json.damaged')]);
      expect(readFileSync(join(folder, 'value.json.damaged'), 'utf8')).toBe(text);
    },
  );
});

describe('a data folder that others may read', () => {
  it('is closed to them, and keeps the rights of its owner', () => {
    const path = join(folder, 'data');
    makeFolder(path);
    chmodSync(path, 0o755);
    closeToOthers(path);
    expect(modeOf(path)).toBe(0o700);
  });
});
