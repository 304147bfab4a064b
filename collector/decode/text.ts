// The payload as text, strictly: too long, empty or not UTF-8 is a problem, never a replaced character.

import { failure, type Result, success } from '../../wax/result.ts';

/** Far above a pack of an hour of readings, far below what could hold up the others. */
const MESSAGE_BYTES = 64 * 1024;

export const withinSize = (payload: Uint8Array): Result<Uint8Array> => {
  if (payload.length > MESSAGE_BYTES)
    return failure(
      'too-large',
      `A message may have ${MESSAGE_BYTES} bytes; this one has ${payload.length}. Send smaller packs.`,
    );
  return payload.length === 0
    ? failure('empty', 'The message is empty. Send the value, or nothing.')
    : success(payload);
};

const decoder = new TextDecoder('utf-8', { fatal: true });

export const utf8 = (payload: Uint8Array): Result<string> => {
  try {
    return success(decoder.decode(payload));
  } catch {
    return failure('not-utf8', 'The message is not UTF-8 text. Send plain text in the encoding UTF-8.');
  }
};
