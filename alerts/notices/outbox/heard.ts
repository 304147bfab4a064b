// Whether an alarm got through to anybody, by what became of its lines in the outbox to persons. Pure.
// A message that a push service or a mail server took counts as got through: nobody can know more.

import type { Channel, OutboxRow } from './outbox-row.ts';

/** Tries in a row without one success after which a way counts as failing. Common practice, no source. */
export const FAILURES_TOLD = 3;

export type Heard =
  | { readonly kind: 'told' }
  /** It may still get through. */
  | { readonly kind: 'under-way' }
  | { readonly kind: 'nobody'; readonly why: string };

type Line = Pick<OutboxRow, 'channel' | 'state' | 'attempts' | 'detail'>;

const WAYS: Readonly<Record<Channel, string>> = {
  push: 'phone',
  mail: 'e-mail',
  webhook: 'webhook',
  lamp: 'lamp',
};

export function heardOf(lines: readonly Line[]): Heard {
  if (lines.some(({ state }) => state === 'delivered')) return { kind: 'told' };
  const isUnderWay = ({ state, attempts, detail }: Line): boolean =>
    state === 'sending' || (state === 'waiting' && (attempts < FAILURES_TOLD || detail === ''));
  if (lines.some(isUnderWay)) return { kind: 'under-way' };
  const answers = lines.map(({ channel, state, detail }) => `${WAYS[channel]}: ${detail || state}`);
  return { kind: 'nobody', why: [...new Set(answers)].join('; ') };
}
