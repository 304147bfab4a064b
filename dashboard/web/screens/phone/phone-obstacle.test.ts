import { expect, it } from 'vitest';
import { type PhoneFacts, phoneObstacle } from './phone-obstacle.ts';

const ABLE: PhoneFacts = {
  isPerson: true,
  isSecure: true,
  isIos: false,
  isOnHomeScreen: false,
  hasWorker: true,
  hasPush: true,
  permission: 'default',
};

it.each<[string, Partial<PhoneFacts>, string | null]>([
  ['a phone that can receive alarms', {}, null],
  ['a phone that was allowed', { permission: 'granted' }, null],
  ['a page without a trusted certificate', { isSecure: false, hasWorker: false, hasPush: false }, 'insecure'],
  ['an iPhone in its browser', { isIos: true, hasPush: false }, 'ios-home'],
  ['an iPhone on its home screen', { isIos: true, isOnHomeScreen: true }, null],
  ['an old iPhone on its home screen', { isIos: true, isOnHomeScreen: true, hasPush: false }, 'no-push'],
  ['a private window', { hasWorker: false }, 'no-worker'],
  ['a browser without pushes', { hasPush: false }, 'no-push'],
  ['a page that nobody signed in to', { isPerson: false }, 'not-signed-in'],
  ['a phone on which it was blocked', { permission: 'denied' }, 'denied'],
])('the obstacle to alarms on %s is named', (_phone, change, obstacle) => {
  expect(phoneObstacle({ ...ABLE, ...change })).toBe(obstacle);
});
