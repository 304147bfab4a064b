// A message of a lab, or why it is none. What does not keep the contract changes nothing and is kept with its reason.
// Fields that the contract does not name are dropped: what nobody reads is not stored either.

import { Value } from 'typebox/value';
import {
  type AlarmMessage,
  type AnswerMessage,
  type ChargeMessage,
  type DayMessage,
  type FiguresMessage,
  GROUP_MESSAGE_MOST_BYTES,
  GROUP_MESSAGES,
  groupTopicParts,
  type MinuteMessage,
  type PatternMessage,
  type StandingMessage,
} from '../lab/group/group-message.ts';

export type GroupMessage =
  | { readonly kind: 'standing'; readonly body: StandingMessage }
  | { readonly kind: 'alarm'; readonly body: AlarmMessage }
  | { readonly kind: 'minute'; readonly body: MinuteMessage }
  | { readonly kind: 'day'; readonly body: DayMessage }
  | { readonly kind: 'charge'; readonly body: ChargeMessage }
  | { readonly kind: 'pattern'; readonly body: PatternMessage }
  | { readonly kind: 'figures'; readonly body: FiguresMessage }
  | { readonly kind: 'answer'; readonly body: AnswerMessage };

/** `data`: the contract holds, and PostgreSQL cannot hold a value; `series`: the server of series cannot. */
export type RefusalReason = 'topic' | 'size' | 'json' | 'version' | 'shape' | 'site' | 'data' | 'series';

export type DecodedReport =
  | { readonly ok: true; readonly message: GroupMessage }
  | { readonly ok: false; readonly reason: RefusalReason };

const refuse = (reason: RefusalReason): DecodedReport => ({ ok: false, reason });

const jsonOf = (payload: Uint8Array): unknown => {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(payload));
  } catch {
    return undefined;
  }
};

/** @example decode('wax-group/9/north/alarm', payload) */
export function decode(topic: string, payload: Uint8Array): DecodedReport {
  const parts = groupTopicParts(topic);
  if (parts === null) return refuse('topic');
  if (payload.length > GROUP_MESSAGE_MOST_BYTES) return refuse('size');
  const body = jsonOf(payload);
  if (typeof body !== 'object' || body === null) return refuse('json');
  if (!('version' in body) || body.version !== 1) return refuse('version');
  if (!Value.Check(GROUP_MESSAGES[parts.kind], body)) return refuse('shape');
  // The broker lets a lab publish below its own site; what is inside must not name another.
  if (!('site' in body) || body.site !== parts.site) return refuse('site');
  return {
    ok: true,
    message: { kind: parts.kind, body: Value.Clean(GROUP_MESSAGES[parts.kind], body) } as GroupMessage,
  };
}
