import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { brokerAccess } from './broker-access.ts';
import { brokerPolicy } from './broker-policy.ts';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
});
afterEach(() => {
  vi.useRealTimers();
});

it('a wrong password at the embedded broker is refused after a second, a right one is taken at once', () => {
  const access = brokerAccess('lab', { user: 'gateway', password: 'shared secret' }, []);
  const { authenticate } = brokerPolicy({
    site: 'lab',
    access: () => access,
    events: { arrived: () => {}, refused: () => {}, status: () => {}, now: () => 0 } as never,
    isPaused: () => false,
  });
  const answers: unknown[] = [];
  const signIn = (password: string) =>
    authenticate?.({ id: 'a' } as never, 'gateway', Buffer.from(password), (error, isIn) =>
      answers.push(error === null ? isIn : 'returnCode' in error && error.returnCode),
    );
  signIn('a guess');
  signIn('shared secret');
  vi.advanceTimersByTime(999);
  expect(answers).toEqual([true]);
  vi.advanceTimersByTime(1);
  expect(answers).toEqual([true, 4]);
});
