// Whether an alarm reached anybody, by what became of its lines in the outbox to persons. Pure.
// A message that a push service or a mail server accepted counts as delivered: nobody can know more.

import type { Channel, OutboxRow } from './outbox-row.ts';
import type { SendAnswer } from './send-answer.ts';

/** Tries in a row without one success after which a channel counts as failing. Common practice, no source. */
export const FAILING_AFTER_TRIES = 3;

export interface FailedChannel {
  readonly channel: Channel;
  /** Null when it was never tried. */
  readonly answer: SendAnswer | null;
}

export type Delivery =
  | { readonly kind: 'delivered' }
  /** It may still be delivered. */
  | { readonly kind: 'pending' }
  /** Each channel and answer once; empty when there was no channel to anybody. */
  | { readonly kind: 'failed'; readonly channels: readonly FailedChannel[] };

type Line = Pick<OutboxRow, 'channel' | 'state' | 'attempts' | 'answer'>;

export function deliveryOf(lines: readonly Line[]): Delivery {
  if (lines.some(({ state }) => state === 'delivered')) return { kind: 'delivered' };
  const isPending = ({ state, attempts, answer }: Line): boolean =>
    state === 'sending' || (state === 'waiting' && (attempts < FAILING_AFTER_TRIES || answer === null));
  if (lines.some(isPending)) return { kind: 'pending' };
  const channels = new Map(
    lines.map(({ channel, answer }) => [`${channel} ${JSON.stringify(answer)}`, { channel, answer }]),
  );
  return { kind: 'failed', channels: [...channels.values()] };
}
