import { describe, expect, it } from 'vitest';
import { lazySerializers } from './lazy-serializers.ts';

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
