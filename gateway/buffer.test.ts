import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBuffer } from './buffer.ts';
import type { Sample } from './sample.ts';

const SAMPLES: readonly Sample[] = [{ probe: 'pot-1', unit: 'Cel', value: 61.5, at: 1000 }];

describe('the buffer of a gateway', () => {
  let folder: string;
  let file: string;
  const lines: string[] = [];
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'waxwarden-buffer-'));
    file = join(folder, 'buffer.db');
    lines.length = 0;
  });
  afterEach(() => rmSync(folder, { recursive: true }));
  const open = () => openBuffer(file, (line) => lines.push(line));
  const fill = (sweeps: number): void => {
    const buffer = open();
    for (let sweep = 0; sweep < sweeps; sweep += 1) buffer.add(SAMPLES, sweep, true);
    buffer.close();
  };

  it('goes on after a restart with its id, its numbers and what waits', () => {
    fill(3);
    const buffer = open();
    expect(buffer.add(SAMPLES, 4, true)).toBe(4);
    expect(buffer.oldest(10, new Set([2])).map(({ sequence }) => sequence)).toEqual([1, 3, 4]);
    buffer.close();
    expect(lines).toEqual([]);
  });

  it.each([
    ['is no database', () => Buffer.from('what a worn card gives back'.repeat(1000))],
    [
      'has a page overwritten',
      () => {
        const whole = readFileSync(file);
        // Of 4096 bytes each: the second one is the root of the sweeps.
        return Buffer.concat([whole.subarray(0, 4096), Buffer.alloc(4096, 0xa5), whole.subarray(8192)]);
      },
    ],
    ['was cut off', () => readFileSync(file).subarray(0, 5000)],
  ])('whose file %s is set aside, and a new one with an id of its own begins', (_, broken) => {
    fill(500);
    const before = open();
    const { id } = before;
    before.close();
    writeFileSync(file, broken());
    const buffer = open();
    expect(buffer.id).not.toBe(id);
    expect(buffer.add(SAMPLES, 1, true)).toBe(1);
    buffer.close();
    expect(existsSync(`${file}.broken`)).toBe(true);
    expect(lines).toEqual([expect.stringContaining('what waited in it is not sent')]);
  });
});
