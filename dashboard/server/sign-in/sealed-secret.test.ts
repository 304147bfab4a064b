import { describe, expect, it } from 'vitest';
import { isSealed, seal, unseal } from './sealed-secret.ts';

const KEY = Buffer.alloc(32, 7);
const SECRET = 'GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ';
const sealed = seal(KEY, 'mara', SECRET);
const bytes = Buffer.from(sealed.slice(4), 'base64url');
const changed = (at: number): string => {
  const copy = Buffer.from(bytes);
  copy.writeUInt8(copy.readUInt8(at) ^ 1, at);
  return `gcm.${copy.toString('base64url')}`;
};

describe('a sealed secret', () => {
  it('is opened by its key for its owner, and never sealed the same twice', () => {
    expect([isSealed(sealed), isSealed(SECRET)]).toEqual([true, false]);
    expect(unseal(KEY, 'mara', sealed)).toBe(SECRET);
    expect(seal(KEY, 'mara', SECRET)).not.toBe(sealed);
  });

  it.each([
    ['with another key', Buffer.alloc(32, 8), 'mara', sealed],
    ['for another owner', KEY, 'anton', sealed],
    ['after its nonce was changed', KEY, 'mara', changed(0)],
    ['after its text was changed', KEY, 'mara', changed(12)],
    ['after its tag was changed', KEY, 'mara', changed(bytes.length - 1)],
    ['after its tag was cut', KEY, 'mara', `gcm.${bytes.subarray(0, -4).toString('base64url')}`],
    ['when it is too short', KEY, 'mara', 'gcm.AAAA'],
    ['when it never was sealed', KEY, 'mara', SECRET],
  ])('is not opened %s', (_, key, owner, text) => {
    expect(unseal(key, owner, text)).toBeNull();
  });
});
