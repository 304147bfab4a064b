// `wax/{site}/{gateway}/senml-cbor`: a SenML pack in CBOR (RFC 8428, section 6). The fields are those of the JSON form
// under integer labels; once they are named, everything else is shared with it.

import { decode, type TagDecoder } from 'cborg';
import { failure, type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { gatewayId } from './identifier.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { senmlReadings } from './senml-readings.ts';
import { checkedPack, type SenmlRecord } from './senml-record.ts';
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
const DECIMAL_FRACTION = 4;
const decimalFraction: TagDecoder = (content) => {
  const parts: unknown = content();
  const [exponent, mantissa] = Array.isArray(parts) && parts.length === 2 ? parts : [];
  if (!Number.isInteger(exponent) || !Number.isInteger(mantissa)) throw new Error('bad decimal fraction');
  return Number(`${mantissa}e${exponent}`);
};

const parseCbor = (payload: Uint8Array): Result<unknown> => {
  try {
    return success(
      decode(payload, {
        useMaps: true,
        allowBigInt: false,
        rejectDuplicateMapKeys: true,
        tags: { [DECIMAL_FRACTION]: decimalFraction },
      }),
    );
  } catch (error) {
    // Nesting beyond the parser's depth ends here too.
    return failure('senml-not-cbor', { reason: (error as Error).message.slice(0, 120) });
  }
};

/** Data values are text in the JSON form, so bytes are written as that form has them. */
const jsonValue = (value: unknown): unknown =>
  value instanceof Uint8Array ? Buffer.from(value).toString('base64url') : value;

const named = (record: unknown): unknown =>
  record instanceof Map
    ? Object.fromEntries(
        [...record].map(([label, value]) => [
          FIELD_OF_LABEL.get(label) ?? (typeof label === 'string' ? label : `label ${String(label)}`),
          jsonValue(value),
        ]),
      )
    : record;

const parsePack = (payload: Uint8Array): Result<readonly SenmlRecord[]> => {
  const sized = withinSize(payload);
  if (!sized.ok) return sized;
  const cbor = parseCbor(sized.value);
  if (!cbor.ok) return cbor;
  return checkedPack(Array.isArray(cbor.value) ? cbor.value.map(named) : cbor.value);
};

export const decodeSenmlCbor = (message: Message, gateway: string): Decoded => {
  const id = gatewayId(gateway);
  if (!id.ok) return { entries: [], rejections: [reject(message, id.problem)] };
  const pack = parsePack(message.payload);
  if (!pack.ok) return { entries: [], rejections: [reject(message, pack.problem)] };
  return senmlReadings(message, gateway, resolveSenml(pack.value, message.receivedAt / MILLIS_PER_SECOND));
};
