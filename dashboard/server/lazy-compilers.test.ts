import { Type } from 'typebox';
import { describe, expect, it } from 'vitest';
import { lazySerializers, lazyValidators } from './lazy-compilers.ts';

const route = (schema: object) => ({ method: 'GET', url: '/', httpStatus: '200', schema });

describe('the writer of an answer', () => {
  it('writes what its schema names and nothing else, the first time and later', () => {
    const write = lazySerializers()(
      route({ type: 'object', properties: { celsius: { type: 'number' } }, additionalProperties: false }),
    );
    expect(write({ celsius: 71.5, secret: 1 })).toBe('{"celsius":71.5}');
    expect(write({ celsius: 72, secret: 2 })).toBe('{"celsius":72}');
  });

  it('is not made before the first answer, when a wrong schema is refused', () => {
    const write = lazySerializers()(route({ type: 'no such type' }));
    expect(() => write({})).toThrow();
  });
});

describe('the reader of a request', () => {
  const schema = Type.Object({ celsius: Type.Number() });
  const read = (httpPart: string) => lazyValidators({ method: 'GET', url: '/', httpPart, schema });

  it('converts the texts of an address, and takes a body as it is', () => {
    expect(read('querystring')({ celsius: '71.5' })).toEqual({ value: { celsius: 71.5 } });
    expect(read('body')({ celsius: '71.5' })).toHaveProperty('error');
    expect(read('body')({ celsius: 71.5 })).toEqual({ value: { celsius: 71.5 } });
  });
});
