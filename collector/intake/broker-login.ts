// The user and password that gateways on the network must show to the embedded broker. Made once, at random, so
// that no two labs share one and none is guessed. The file is readable by its owner alone; deleting it makes a
// new login at the next start.

import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

export interface BrokerLogin {
  readonly user: string;
  readonly password: string;
}

/** Bits from the system's generator behind the password: 120, so it needs no slow hash against guessing. */
const PASSWORD_BYTES = 15;

/** Reads the login, or makes and keeps one. `isNew` says that the user has not seen it yet. */
export const brokerLogin = (file: string): BrokerLogin & { readonly isNew: boolean } => {
  try {
    const kept = JSON.parse(readFileSync(file, 'utf8')) as Partial<BrokerLogin>;
    if (typeof kept.user === 'string' && typeof kept.password === 'string' && kept.password !== '')
      return { user: kept.user, password: kept.password, isNew: false };
    throw new Error(`${file}: not a broker login. Delete the file to make a new one.`);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'ENOENT') throw cause;
  }
  const made: BrokerLogin = { user: 'gateway', password: randomBytes(PASSWORD_BYTES).toString('base64url') };
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, `${JSON.stringify(made)}\n`, { mode: 0o600, flag: 'wx' });
  return { ...made, isNew: true };
};
