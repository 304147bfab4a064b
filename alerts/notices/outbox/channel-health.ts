// Whether a channel works, by its last tries in a row: reported when it changes.

import { FAILING_AFTER_TRIES } from './delivery.ts';
import type { Channel } from './outbox-row.ts';
import type { SendAnswer } from './send-answer.ts';

export type ReportChannel = (channel: Channel, works: boolean, answer: SendAnswer) => void;

export interface ChannelHealth {
  readonly worked: (channel: Channel, answer: SendAnswer) => void;
  readonly failed: (channel: Channel, answer: SendAnswer) => void;
  /** What is refused once is refused every time: it is reported at once. */
  readonly refused: (channel: Channel, answer: SendAnswer) => void;
}

export function channelHealth(report: ReportChannel): ChannelHealth {
  const failures = new Map<Channel, number>();
  const count = (channel: Channel, next: (before: number) => number, answer: SendAnswer): void => {
    const before = failures.get(channel) ?? 0;
    const after = next(before);
    failures.set(channel, after);
    const didFail = before >= FAILING_AFTER_TRIES;
    const fails = after >= FAILING_AFTER_TRIES;
    if (didFail !== fails) report(channel, !fails, answer);
  };
  return {
    worked: (channel, answer) => count(channel, () => 0, answer),
    failed: (channel, answer) => count(channel, (before) => before + 1, answer),
    refused: (channel, answer) =>
      count(channel, (before) => Math.max(before + 1, FAILING_AFTER_TRIES), answer),
  };
}
