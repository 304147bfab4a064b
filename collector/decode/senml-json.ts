// `wax/{site}/{gateway}/senml`: a SenML pack in JSON (RFC 8428, section 5).

import { failure, type Result, success } from '../../wax/result.ts';
import { MILLIS_PER_SECOND } from '../../wax/units.ts';
import { gatewayId } from './identifier.ts';
import { parseUnambiguousJson } from './json-document.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { senmlReadings } from './senml-readings.ts';
import { type CheckedRecord, checkPack } from './senml-record.ts';
import { resolveSenml } from './senml-resolve.ts';
import { utf8, withinSize } from './text.ts';

const parsePack = (payload: Uint8Array): Result<readonly CheckedRecord[]> => {
  const sized = withinSize(payload);
  if (!sized.ok) return sized;
  const text = utf8(sized.value);
  if (!text.ok) return text;
  const json = parseJson(text.value);
  return json.ok ? checkPack(json.value) : json;
};

export const decodeSenmlJson = (
  message: Message,
  gateway: string,
  { isHistorical = false } = {},
): Decoded => {
  const id = gatewayId(gateway);
  if (!id.ok) return { entries: [], rejections: [reject(message, id.problem)] };
  const pack = parsePack(message.payload);
  if (!pack.ok) return { entries: [], rejections: [reject(message, pack.problem)] };
  const resolved = resolveSenml(pack.value, message.receivedAt / MILLIS_PER_SECOND);
  return senmlReadings(message, gateway, resolved, { isHistorical });
};

function parseJson(text: string): Result<unknown> {
  try {
    return success(parseUnambiguousJson(text));
  } catch (error) {
    // Nesting beyond the parser's depth ends here too.
    return failure('senml-not-json', { reason: (error as Error).message.slice(0, 120) });
  }
}
