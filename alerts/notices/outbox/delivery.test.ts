import { describe, expect, it } from 'vitest';
import { deliveryOf, FAILING_AFTER_TRIES } from './delivery.ts';
import type { OutboxRow } from './outbox-row.ts';
import { ownWords } from './send-answer.ts';

type Line = Parameters<typeof deliveryOf>[0][number];
const SILENCE = ownWords('does not answer');
const line = (state: OutboxRow['state'], attempts = 1, change: Partial<Line> = {}): Line => ({
  channel: 'push',
  state,
  attempts,
  answer: SILENCE,
  ...change,
});

describe('the delivery of an alarm', () => {
  it.each<[string, readonly Line[], string]>([
    ['one phone of two accepted it', [line('failed'), line('delivered')], 'delivered'],
    ['it was not tried yet', [line('waiting', 0, { answer: null })], 'pending'],
    ['it is being sent', [line('sending', FAILING_AFTER_TRIES + 1)], 'pending'],
    ['it failed once less than counts', [line('waiting', FAILING_AFTER_TRIES - 1)], 'pending'],
    ['it failed as often as counts', [line('waiting', FAILING_AFTER_TRIES)], 'failed'],
    ['one channel failed and another is tried', [line('failed'), line('waiting', 1)], 'pending'],
    ['it expired', [line('expired', 9)], 'failed'],
    ['the phone no longer exists', [line('failed'), line('withdrawn', 0)], 'failed'],
    ['there was no channel to anybody', [], 'failed'],
  ])('when %s is "%3$s"', (_when, lines, kind) => {
    expect(deliveryOf(lines).kind).toBe(kind);
  });

  it('names each channel once with why it failed', () => {
    const refused = ownWords('refused');
    const mail = line('waiting', 3, { channel: 'mail', answer: refused });
    expect(deliveryOf([line('expired'), line('expired'), mail])).toEqual({
      kind: 'failed',
      channels: [
        { channel: 'push', answer: SILENCE },
        { channel: 'mail', answer: refused },
      ],
    });
  });
});
