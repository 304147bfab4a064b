// The payload formats, one row each: which topics carry one and who decodes it. A new format is a file and a row.

import { decodeGatewayState } from './gateway-state.ts';
import type { Decoded, Message } from './message.ts';
import { decodePlainNumber } from './plain-number.ts';
import { decodeSenmlCbor } from './senml-cbor.ts';
import { decodeSenmlJson } from './senml-json.ts';

export interface PayloadFormat {
  /** Topic levels below `wax/{site}/`, with `+` for one level that the decoder is handed. */
  readonly levels: readonly string[];
  /** `parts` are what stood where the pattern has `+`. */
  readonly decode: (message: Message, parts: readonly string[]) => Decoded;
}

const part = (parts: readonly string[], index: number): string => parts[index] ?? '';

export const PAYLOAD_FORMATS = {
  'plain number': {
    levels: ['+', '+', 'celsius'],
    decode: (message, parts) => decodePlainNumber(message, part(parts, 0), part(parts, 1)),
  },
  'SenML JSON': {
    levels: ['+', 'senml'],
    decode: (message, parts) => decodeSenmlJson(message, part(parts, 0)),
  },
  'SenML of the past': {
    levels: ['+', 'senml-past'],
    decode: (message, parts) => decodeSenmlJson(message, part(parts, 0), { isHistorical: true }),
  },
  'SenML CBOR': {
    levels: ['+', 'senml-cbor'],
    decode: (message, parts) => decodeSenmlCbor(message, part(parts, 0)),
  },
  'gateway state': {
    levels: ['+', 'state'],
    decode: (message, parts) => decodeGatewayState(message, part(parts, 0)),
  },
} as const satisfies Record<string, PayloadFormat>;

/** The parts of the topic where the pattern has `+`; null when it does not match. */
export const topicParts = (
  pattern: readonly string[],
  levels: readonly string[],
): readonly string[] | null =>
  levels.length === pattern.length &&
  pattern.every((level, index) => level === '+' || level === levels[index])
    ? levels.filter((_, index) => pattern[index] === '+')
    : null;
