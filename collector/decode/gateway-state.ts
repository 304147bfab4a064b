// `wax/{site}/{gateway}/state`: retained `online` or `offline`, the latter usually as a last will.

import { problem } from '../../wax/result.ts';
import { gatewayId } from './identifier.ts';
import type { Decoded, Message } from './message.ts';
import { reject } from './reject.ts';
import { utf8, withinSize } from './text.ts';

export const decodeGatewayState = (message: Message, gateway: string): Decoded => {
  const id = gatewayId(gateway);
  if (!id.ok) return { entries: [], rejections: [reject(message, id.problem)] };
  const sized = withinSize(message.payload);
  const text = sized.ok ? utf8(sized.value) : sized;
  if (!text.ok) return { entries: [], rejections: [reject(message, text.problem)] };
  const state = text.value.trim();
  if (state !== 'online' && state !== 'offline')
    return { entries: [], rejections: [reject(message, problem('gateway-state', {}, state))] };
  return {
    entries: [{ kind: 'gateway', receivedAt: message.receivedAt, gateway, online: state === 'online' }],
    rejections: [],
  };
};
