// `wax/{site}/{gateway}/{probe}/celsius`: one number as text, measured when it arrived.

import { failure, type Result } from '../../wax/result.ts';
import type { Celsius } from '../../wax/units.ts';
import { gatewayId, probeId } from './identifier.ts';
import { AGELESS } from './measured-at.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { temperature } from './temperature.ts';
import { isNumberText, utf8, withinSize } from './text.ts';

const parseCelsius = (payload: Uint8Array): Result<Celsius> => {
  const sized = withinSize(payload);
  if (!sized.ok) return sized;
  const text = utf8(sized.value);
  if (!text.ok) return text;
  const trimmed = text.value.trim();
  if (trimmed === '') return failure('empty');
  return isNumberText(trimmed) ? temperature(Number(trimmed)) : failure('number-expected', {}, trimmed);
};

export const decodePlainNumber = (message: Message, gateway: string, probe: string): Decoded => {
  const ids = [gatewayId(gateway), probeId(probe)];
  const wrongId = ids.find((id) => !id.ok);
  if (wrongId !== undefined && !wrongId.ok)
    return { entries: [], rejections: [reject(message, wrongId.problem)] };
  const value = parseCelsius(message.payload);
  if (!value.ok) return { entries: [], rejections: [reject(message, value.problem)] };
  if (message.delivery === 'retained') return { entries: [], rejections: [reject(message, AGELESS)] };
  return {
    entries: [
      {
        kind: 'readings',
        receivedAt: message.receivedAt,
        gateway,
        stampedBy: 'arrival',
        readings: [
          {
            probe,
            at: message.receivedAt,
            celsius: value.value,
            // The broker kept it for an unknown time.
            quality: message.delivery === 'live' ? 'good' : 'uncertain-time',
          },
        ],
      },
    ],
    rejections: [],
  };
};
