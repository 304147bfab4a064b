import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseUnambiguousJson } from './json-document.ts';

describe('A JSON text', () => {
  it('without a repeated name is read as any parser reads it', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(undefined, 1, '\t'), (value, indent) => {
        const text = JSON.stringify(value, null, indent);
        expect(parseUnambiguousJson(text)).toEqual(JSON.parse(text));
      }),
    );
  });

  it.each([
    '{"v":61.5,"v":20}',
    '[{"n":"pot","v":61.5,"v" : 61.5}]',
    '{"a":{"b":[{"c":1,"c":2}]}}',
    String.raw`{"v":1,"\u0076":2}`,
    String.raw`{"\\":1,"\\":2}`,
    '{"__proto__":1,"__proto__":2}',
    '{"":1,"":2}',
  ])('that names a member twice is refused: %s', (text) => {
    expect(() => parseUnambiguousJson(text)).toThrow('twice');
  });

  it.each(['{"a":"b\\":","c":"\\\\"}', '{"a":{"v":1},"b":{"v":2}}', '["a","a",{"a":"a"}]', '""', '" : "'])(
    'with quotes, colons and like values is read: %s',
    (text) => {
      expect(parseUnambiguousJson(text)).toEqual(JSON.parse(text));
    },
  );

  it('nested thousands deep is read or refused, and never ends the process', () => {
    const deep = `${'['.repeat(30_000)}${']'.repeat(30_000)}`;
    let outcome = 'read';
    try {
      parseUnambiguousJson(deep);
    } catch (error) {
      outcome = error instanceof Error ? 'refused' : 'other';
    }
    expect(['read', 'refused']).toContain(outcome);
  });
});
