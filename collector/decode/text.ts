// The payload as text, strictly: too long, empty or not UTF-8 is a problem, never a replaced character.

import { failure, type Result, success } from '../../wax/result.ts';

/** Far more than an hour of readings in one pack, far less than could hold up other messages. */
const MESSAGE_BYTES = 64 * 1024;

export const withinSize = (payload: Uint8Array, most = MESSAGE_BYTES): Result<Uint8Array> => {
  if (payload.length > most) return failure('too-large', { most, bytes: payload.length });
  return payload.length === 0 ? failure('empty') : success(payload);
};

const decoder = new TextDecoder('utf-8', { fatal: true });

export const utf8 = (payload: Uint8Array): Result<string> => {
  try {
    return success(decoder.decode(payload));
  } catch {
    return failure('not-utf8');
  }
};

/** No digit can match in two ways, so that a text of nothing but digits is refused in one pass. */
const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)([eE][+-]?\d+)?$/;

/** A number in decimal digits, without blanks around it. */
export const isNumberText = (text: string): boolean => NUMBER.test(text);
