import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { brokerAccess } from './broker-access.ts';
import { brokerPolicy } from './broker-policy.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
});
afterEach(() => {
  vi.useRealTimers();
});

const signInWith = (answers: unknown[]) => {
  const access = brokerAccess('lab', { user: 'gateway', password: 'shared secret' }, []);
  const { options } = brokerPolicy({
    site: 'lab',
    access: () => access,
    events: { arrived: () => {}, refused: () => {}, status: () => {}, now: () => 0 } as never,
    isPaused: () => false,
    sessions: () => null,
  });
  return (password: string, id = 'a') =>
    options.authenticate?.({ id } as never, 'gateway', Buffer.from(password), (error, isIn) =>
      answers.push(error === null ? isIn : 'returnCode' in error && error.returnCode),
    );
};

it('a wrong password at the embedded broker is refused after a second, a right one is taken at once', () => {
  const answers: unknown[] = [];
  const signIn = signInWith(answers);
  signIn('a guess');
  signIn('shared secret');
  vi.advanceTimersByTime(999);
  expect(answers).toEqual([true]);
  vi.advanceTimersByTime(1);
  expect(answers).toEqual([true, 4]);
});

it.each([
  ['of 128 signs', 'i'.repeat(128), true],
  ['of 129 signs', 'i'.repeat(129), 2],
  ['with a sign that shows nothing', 'gw\u0000', 2],
  ['with a mark that reverses the direction', 'gw\u202e', 2],
])('a client id %s at the embedded broker is taken or refused by its code', (_, id, answer) => {
  const answers: unknown[] = [];
  signInWith(answers)('shared secret', id);
  expect(answers).toEqual([answer]);
});
