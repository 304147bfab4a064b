import { expect, it } from 'vitest';
import { sendMalformed } from '../../tests/malformed-messages.ts';

const COUNT = 20_000;

it('every made-up message of any format is acknowledged once, and is taken or refused', () => {
  const counts = sendMalformed(COUNT, 0.42);
  const { received, acknowledged, accepted, quarantined, sparkplugWithout, clearing, lost } = counts;
  expect(lost).toEqual([]);
  expect([received, acknowledged]).toEqual([COUNT, COUNT]);
  expect(accepted + quarantined + sparkplugWithout + clearing).toBe(received);
  // Otherwise the messages would not try what they are to try.
  expect(accepted).toBeGreaterThan(COUNT / 10);
  expect(quarantined).toBeGreaterThan(COUNT / 10);
});
