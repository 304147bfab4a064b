// A secret that must be read again, sealed by a key that does not lie in the database: AES-256-GCM (NIST SP 800-38D) with a
// nonce of its own each time, bound to its owner, so that a row that is moved to another person opens nothing.

import { createCipheriv, createDecipheriv, randomBytes } from 'node:crypto';

const ALGORITHM = 'aes-256-gcm';
const NONCE_BYTES = 12;
const TAG_BYTES = 16;
/** Says how it was sealed; no alphabet of a plain secret has the dot. */
const MARK = 'gcm.';

export const isSealed = (text: string): boolean => text.startsWith(MARK);

/** `key` is of 32 bytes. */
export function seal(key: Buffer, owner: string, secret: string): string {
  const nonce = randomBytes(NONCE_BYTES);
  const cipher = createCipheriv(ALGORITHM, key, nonce).setAAD(Buffer.from(owner));
  const bytes = Buffer.concat([nonce, cipher.update(secret, 'utf8'), cipher.final(), cipher.getAuthTag()]);
  return MARK + bytes.toString('base64url');
}

/** Null where it was sealed with another key, for somebody else, or was changed since. */
export function unseal(key: Buffer, owner: string, sealed: string): string | null {
  const bytes = Buffer.from(sealed.slice(MARK.length), 'base64url');
  if (!isSealed(sealed) || bytes.length < NONCE_BYTES + TAG_BYTES) return null;
  const decipher = createDecipheriv(ALGORITHM, key, bytes.subarray(0, NONCE_BYTES), {
    authTagLength: TAG_BYTES,
  })
    .setAAD(Buffer.from(owner))
    .setAuthTag(bytes.subarray(-TAG_BYTES));
  try {
    return (
      decipher.update(bytes.subarray(NONCE_BYTES, -TAG_BYTES), undefined, 'utf8') + decipher.final('utf8')
    );
  } catch {
    return null;
  }
}
