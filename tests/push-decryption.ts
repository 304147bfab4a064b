// Decrypts the body of a push as a browser does (RFC 8188 with the keys of RFC 8291), written from the standards with
// the platform's own cryptography, so that what the product sends is checked by nothing that sent it.

import { createDecipheriv, createECDH, createPublicKey, hkdfSync, verify } from 'node:crypto';

export interface BrowserKeys {
  readonly privateKey: Buffer;
  readonly publicKey: Buffer;
  readonly auth: Buffer;
}

export interface DecryptedPush {
  readonly text: string;
  readonly contentKey: string;
  readonly nonce: string;
}

const HEADER = { salt: 16, size: 4, keyLength: 1 } as const;
const TAG_BYTES = 16;

const hkdf = (secret: Buffer, salt: Buffer, info: Buffer, bytes: number): Buffer =>
  Buffer.from(hkdfSync('sha256', secret, salt, info, bytes));

export function decryptPush(body: Buffer, { privateKey, publicKey, auth }: BrowserKeys): DecryptedPush {
  const salt = body.subarray(0, HEADER.salt);
  const keyAt = HEADER.salt + HEADER.size + HEADER.keyLength;
  const sender = body.subarray(keyAt, keyAt + (body[keyAt - 1] ?? 0));
  const record = body.subarray(keyAt + sender.length);
  const agreement = createECDH('prime256v1');
  agreement.setPrivateKey(privateKey);
  const info = Buffer.concat([Buffer.from('WebPush: info\0'), publicKey, sender]);
  const input = hkdf(agreement.computeSecret(sender), auth, info, 32);
  const key = hkdf(input, salt, Buffer.from('Content-Encoding: aes128gcm\0'), 16);
  const nonce = hkdf(input, salt, Buffer.from('Content-Encoding: nonce\0'), 12);
  const decipher = createDecipheriv('aes-128-gcm', key, nonce);
  decipher.setAuthTag(record.subarray(-TAG_BYTES));
  const padded = Buffer.concat([decipher.update(record.subarray(0, -TAG_BYTES)), decipher.final()]);
  const end = padded.lastIndexOf(2);
  if (end < 0 || padded.subarray(end + 1).some((byte) => byte !== 0))
    throw new Error('the last record has no delimiter');
  return {
    text: padded.subarray(0, end).toString(),
    contentKey: key.toString('base64url'),
    nonce: nonce.toString('base64url'),
  };
}

export interface VapidClaims {
  readonly aud: string;
  readonly exp: number;
  readonly sub: string;
}

/** Checks the signature of an `Authorization: vapid` header (RFC 8292, 3) and returns what it claims. */
export function verifyVapid(authorization: string): VapidClaims & { readonly key: string } {
  const [, token = '', key = ''] = /^vapid t=([^,]+), ?k=([\w-]+)$/.exec(authorization) ?? [];
  const [head = '', claims = '', signature = ''] = token.split('.');
  const point = Buffer.from(key, 'base64url');
  const [x, y] = [point.subarray(1, 33), point.subarray(33)].map((part) => part.toString('base64url'));
  const publicKey = createPublicKey({
    key: { kty: 'EC', crv: 'P-256', x: x ?? '', y: y ?? '' },
    format: 'jwk',
  });
  const isRight = verify(
    'sha256',
    Buffer.from(`${head}.${claims}`),
    { key: publicKey, dsaEncoding: 'ieee-p1363' },
    Buffer.from(signature, 'base64url'),
  );
  if (!isRight) throw new Error('the signature of the sender is wrong');
  return { ...(JSON.parse(Buffer.from(claims, 'base64url').toString()) as VapidClaims), key };
}
