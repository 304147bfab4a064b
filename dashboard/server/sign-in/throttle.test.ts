import { expect, it } from 'vitest';
import { epochMillis } from '../../../wax/units.ts';
import { throttle } from './throttle.ts';

it('an account that is slowed stays slowed however many made-up names are tried from however many addresses', () => {
  let now = 0;
  const tries = throttle(() => epochMillis(now));
  for (let index = 0; index < 120; index += 1) tries.failed('mara', `10.0.0.${index}`);
  const before = tries.secondsToWait('mara', '10.9.9.9', false);
  expect(before).toBeGreaterThan(0);
  for (let index = 0; index < 30_000; index += 1) tries.failed(`nobody ${index}`, `10.1.${index}`);
  expect(tries.secondsToWait('mara', '10.9.9.9', false)).toBe(before);
  now += before * 1000;
  tries.failed('mara', '10.9.9.9');
  expect(tries.secondsToWait('mara', '10.9.9.10', false)).toBeGreaterThan(0);
});
