// The examples of RFC 6901, section 5, at the door where a lab's own pointers enter.
import { describe, expect, it } from 'vitest';
import { decodeMapped } from '../../collector/decode/mapped-json.ts';
import { epochMillis } from '../../wax/units.ts';

const DOCUMENT = `{ "foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\\\j": 5, "k\\"l": 6, " ": 7, "m~n": 8, "~1": 9 }`;

function valueAt(pointer: string): unknown {
  const decoded = decodeMapped(
    {
      topic: 'bench/1',
      payload: new TextEncoder().encode(DOCUMENT),
      receivedAt: epochMillis(Date.UTC(2026, 5, 1)),
      delivery: 'live',
      site: 'lab-1',
    },
    [{ id: 'm', isOn: true, topic: 'bench/1', gateway: 'g', probe: 'p', value: pointer, unit: 'Cel' }],
  );
  const [entry] = decoded?.entries ?? [];
  return entry?.kind === 'readings' ? entry.readings[0]?.celsius : decoded?.rejections[0]?.code;
}

describe('a JSON pointer of RFC 6901', () => {
  it.each([
    ['/', 0],
    ['/a~1b', 1],
    ['/c%d', 2],
    ['/e^f', 3],
    ['/g|h', 4],
    ['/i\\j', 5],
    ['/k"l', 6],
    ['/ ', 7],
    ['/m~0n', 8],
    // Section 4: ~01 is ~1 and never a slash.
    ['/~01', 9],
  ])('%s gives %d', (pointer, value) => {
    expect(valueAt(pointer)).toBe(value);
  });

  it.each([
    ['', 'value-not-a-number'],
    ['/foo', 'value-not-a-number'],
    ['/foo/0', 'value-not-a-number'],
    ['/foo/-', 'mapping-no-value'],
    ['/foo/2', 'mapping-no-value'],
    ['/foo/00', 'mapping-no-value'],
    ['/foo/length', 'mapping-no-value'],
    ['/bar', 'mapping-no-value'],
  ])('%s gives no number: %s', (pointer, code) => {
    expect(valueAt(pointer)).toBe(code);
  });
});
