import { describe, expect, it } from 'vitest';
import { FAILURES_TOLD, heardOf } from './heard.ts';
import type { OutboxRow } from './outbox-row.ts';

type Line = Parameters<typeof heardOf>[0][number];
const line = (state: OutboxRow['state'], attempts = 1, change: Partial<Line> = {}): Line => ({
  ...{ channel: 'push', state, attempts, detail: 'does not answer' },
  ...change,
});

describe('whether an alarm got through', () => {
  it.each<[string, readonly Line[], string]>([
    ['one phone of two took it', [line('failed'), line('delivered')], 'told'],
    ['it was not tried yet', [line('waiting', 0, { detail: '' })], 'under-way'],
    ['it is being sent', [line('sending', FAILURES_TOLD + 1)], 'under-way'],
    ['it failed once less than counts', [line('waiting', FAILURES_TOLD - 1)], 'under-way'],
    ['it failed as often as counts', [line('waiting', FAILURES_TOLD)], 'nobody'],
    ['one way failed and another is tried', [line('failed'), line('waiting', 1)], 'under-way'],
    ['it expired', [line('expired', 9)], 'nobody'],
    ['the phone is no more', [line('failed'), line('withdrawn', 0)], 'nobody'],
    ['there was no way to anybody', [], 'nobody'],
  ])('when %s', (_when, lines, kind) => {
    expect(heardOf(lines).kind).toBe(kind);
  });

  it('says of each way once why it failed', () => {
    const mail = line('waiting', 3, { channel: 'mail', detail: 'refused' });
    expect(heardOf([line('expired'), line('expired'), mail])).toEqual({
      kind: 'nobody',
      why: 'phone: does not answer; e-mail: refused',
    });
  });
});
