import { expect, it } from 'vitest';
import { connectionSpan } from './connection-span.ts';

const nothing = (): void => {};

it('three connections that end soon make the line unsteady, and one that lasts makes it steady again', async () => {
  const span = connectionSpan(30);
  const seen: boolean[] = [];
  for (let turn = 0; turn < 3; turn += 1) {
    span.connected(nothing);
    seen.push(span.ended() && span.isUnsteady());
  }
  expect([seen, span.shortOnes()]).toEqual([[false, false, true], 3]);
  await new Promise<void>((lasted) => span.connected(lasted));
  expect([span.isUnsteady(), span.shortOnes()]).toEqual([false, 0]);
  span.stop();
});

it('tries that never became a connection do not count as short ones', () => {
  const span = connectionSpan();
  for (let turn = 0; turn < 5; turn += 1) expect(span.ended()).toBe(false);
  expect(span.isUnsteady()).toBe(false);
});
