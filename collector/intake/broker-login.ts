// The user and password that gateways on the network must show to the embedded broker. Made once, at random, so
// that no two labs share one and none is guessed. The file is readable by its owner alone; deleting it makes a
// new login at the next start.

import { randomBytes } from 'node:crypto';
import { type KeptOnce, keepOnce } from '../../lab/database/durable-file.ts';

export interface BrokerLogin {
  readonly user: string;
  readonly password: string;
}

/** Bits from the system's generator behind the password: 120, so it needs no slow hash against guessing. */
const PASSWORD_BYTES = 15;

const readLogin = (json: unknown): BrokerLogin | null => {
  const { user, password } = json as Partial<BrokerLogin>;
  return typeof user === 'string' && typeof password === 'string' && password !== ''
    ? { user, password }
    : null;
};

/** Reads the login, or makes and keeps one. */
export const brokerLogin = (
  file: string,
  onReplaced: NonNullable<KeptOnce<BrokerLogin>['onReplaced']> = () => {},
): BrokerLogin =>
  keepOnce(file, {
    read: readLogin,
    make: () => ({ user: 'gateway', password: randomBytes(PASSWORD_BYTES).toString('base64url') }),
    onReplaced,
  });
