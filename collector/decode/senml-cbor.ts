// `wax/{site}/{gateway}/senml-cbor`: a SenML pack in CBOR (RFC 8428, section 6). The fields are those of the JSON form
// under integer labels; once they are named, everything else is shared with it.

import { decode, type TagDecoder } from 'cborg';
import { failure, type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { gatewayId } from './identifier.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { senmlReadings } from './senml-readings.ts';
import { type CheckedRecord, checkPack, type SenmlRecord } from './senml-record.ts';
import { resolveSenml } from './senml-resolve.ts';
import { withinSize } from './text.ts';

/** RFC 8428, table 4. */
const FIELD_OF_LABEL: ReadonlyMap<unknown, keyof SenmlRecord> = new Map([
  [-1, 'bver'],
  [-2, 'bn'],
  [-3, 'bt'],
  [-4, 'bu'],
  [-5, 'bv'],
  [-6, 'bs'],
  [0, 'n'],
  [1, 'u'],
  [2, 'v'],
  [3, 'vs'],
  [4, 'vb'],
  [5, 's'],
  [6, 't'],
  [7, 'ut'],
  [8, 'vd'],
]);

/** Tag 4 (RFC 8949, 3.4.4): `[exponent, mantissa]`; the only tag that RFC 8428 lets numbers have. */
const decimalFraction: TagDecoder = (content) => {
  const parts: unknown = content();
  const [exponent, mantissa] = Array.isArray(parts) && parts.length === 2 ? parts : [];
  if (!Number.isInteger(exponent) || !Number.isInteger(mantissa)) throw new Error('bad decimal fraction');
  return Number(`${BigInt(mantissa)}e${exponent}`);
};

/** Tags 2 and 3 (RFC 8949, 3.4.3): a mantissa may be one. `-1 - n` where it is negative. */
const bigNumber =
  (isNegative: boolean): TagDecoder =>
  (content) => {
    const bytes: unknown = content();
    if (!(bytes instanceof Uint8Array)) throw new Error('bad bignum');
    const size = bytes.length === 0 ? 0n : BigInt(`0x${Buffer.from(bytes).toString('hex')}`);
    return Number(isNegative ? -1n - size : size);
  };

/** Tag 55799 (RFC 8949, 3.4.6) only marks what follows as CBOR. */
const selfDescribed: TagDecoder = (content) => content();

const TAGS: Readonly<Record<number, TagDecoder>> = {
  2: bigNumber(false),
  3: bigNumber(true),
  4: decimalFraction,
  55799: selfDescribed,
};

const parseCbor = (payload: Uint8Array): Result<unknown> => {
  try {
    const pack: unknown = decode(payload, {
      useMaps: true,
      allowBigInt: false,
      rejectDuplicateMapKeys: true,
      tags: TAGS,
    });
    return success(Array.isArray(pack) ? pack.map(nameFields) : pack);
  } catch (error) {
    // Nesting beyond the parser's depth ends here too.
    return failure('senml-not-cbor', { reason: (error as Error).message.slice(0, 120) });
  }
};

/** Data values are text in the JSON form, so bytes are written as that form has them. */
const jsonValue = (field: string, value: unknown): unknown =>
  field === 'vd' && value instanceof Uint8Array ? Buffer.from(value).toString('base64url') : value;

/** @throws Error where a field appears twice, under its label and under its name. */
function nameFields(record: unknown): unknown {
  if (!(record instanceof Map)) return record;
  const fields = new Map<string, unknown>();
  for (const [label, value] of record) {
    const field = FIELD_OF_LABEL.get(label) ?? (typeof label === 'string' ? label : `label ${String(label)}`);
    if (fields.has(field)) throw new Error(`the field ${field} appears twice in one record`);
    fields.set(field, jsonValue(field, value));
  }
  return Object.fromEntries(fields);
}

const parsePack = (payload: Uint8Array): Result<readonly CheckedRecord[]> => {
  const sized = withinSize(payload);
  if (!sized.ok) return sized;
  const cbor = parseCbor(sized.value);
  if (!cbor.ok) return cbor;
  return checkPack(cbor.value);
};

export const decodeSenmlCbor = (message: Message, gateway: string): Decoded => {
  const id = gatewayId(gateway);
  if (!id.ok) return { entries: [], rejections: [reject(message, id.problem)] };
  const pack = parsePack(message.payload);
  if (!pack.ok) return { entries: [], rejections: [reject(message, pack.problem)] };
  return senmlReadings(message, gateway, resolveSenml(pack.value, message.receivedAt / MILLIS_PER_SECOND));
};
