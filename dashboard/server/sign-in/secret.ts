// Random secrets and what is kept of them. 256 random bits need no slow hash: they cannot be guessed, so a plain
// SHA-256 keeps the database from being a bunch of keys. Codes that people type are shorter and live shortly.

import { createHash, randomBytes, randomInt } from 'node:crypto';

export const createSecret = (): string => randomBytes(32).toString('base64url');

export const hashOfSecret = (secret: string): string =>
  createHash('sha256').update(secret).digest('base64url');

/** Letters and digits that are not taken for one another when read aloud or from paper. */
const CODE_ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ';
const symbols = (length: number): string =>
  Array.from({ length }, () => CODE_ALPHABET[randomInt(CODE_ALPHABET.length)]).join('');

/** Ten symbols, 49 bits; tries are throttled. */
export const createCode = (): string => `${symbols(5)}-${symbols(5)}`;
export const shortId = (length: number): string => symbols(length);

/** As typed: case, blanks and dashes do not matter. */
export const hashOfCode = (code: string): string =>
  hashOfSecret(code.toUpperCase().replace(/[^0-9A-Z]/g, ''));
