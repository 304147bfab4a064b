// The parts of sign-in over one database, and the code for the first person.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { type AccessKeys, openAccessKeys } from './access-keys.ts';
import { type Credentials, hasManager, openCredentials } from './credentials.ts';
import { type Passwords, passwords, type ScryptCost } from './password.ts';
import { openSecondFactors, type SecondFactors } from './second-factor.ts';
import { openSessions, type Sessions } from './sessions.ts';
import { SIGN_IN_STEPS } from './tables.ts';
import { type Throttle, throttle } from './throttle.ts';

export interface SignIn {
  readonly credentials: Credentials;
  readonly secondFactors: SecondFactors;
  readonly sessions: Sessions;
  readonly keys: AccessKeys;
  readonly passwords: Passwords;
  readonly throttle: Throttle;
  readonly needsFirstPerson: () => boolean;
}

export const openSignIn = (running: RunningLab, database: LabDatabase, cost?: ScryptCost): SignIn => {
  database.migrate('sign-in', SIGN_IN_STEPS);
  const credentials = openCredentials(database, running.now);
  return {
    credentials,
    secondFactors: openSecondFactors(database, running.now, running.notices.derivedKey('second factors')),
    sessions: openSessions(
      database,
      running.now,
      (person) => running.lab().people.find(({ id }) => id === person)?.role ?? null,
    ),
    keys: openAccessKeys(database, running.now),
    passwords: passwords(cost),
    throttle: throttle(running.now),
    needsFirstPerson: () => !hasManager(running.repository, credentials),
  };
};

/**
 * The one-time code by which the first manager is made, to be printed on the console at start; null when there is
 * a manager already and `recover` is not set. A new code makes the one before worthless.
 */
export const firstPersonCode = (
  running: RunningLab,
  database: LabDatabase,
  recover = false,
): string | null => {
  const { credentials, needsFirstPerson } = openSignIn(running, database);
  return needsFirstPerson() || recover ? credentials.invite(null) : null;
};
