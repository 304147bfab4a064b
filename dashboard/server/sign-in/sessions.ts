// Sessions of persons: a random secret in the browser, its hash here, an end by idleness and an end for good.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { Role } from '../../../lab/person.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import { hashOfSecret, createSecret, shortId } from './secret.ts';

interface Session {
  /** Names the session in lists; no key to it. */
  readonly id: string;
  readonly person: string;
  readonly beganAt: EpochMillis;
  readonly seenAt: EpochMillis;
  readonly address: string;
  readonly agent: string;
}

/**
 * A technician's phone that is opened from a push at night must still be signed in; a manager's desk, which may set up
 * everything, is left for a night. Our choice, within OWASP ASVS 4.0.3, 3.3.2.
 */
const IDLE_MILLIS: Readonly<Record<Role, number>> = {
  viewer: 7 * MILLIS_PER_DAY,
  technician: 7 * MILLIS_PER_DAY,
  manager: 12 * MILLIS_PER_HOUR,
};
const LONGEST_IDLE_MILLIS = Math.max(...Object.values(IDLE_MILLIS));
export const ABSOLUTE_MILLIS = 30 * MILLIS_PER_DAY;
/** How long a typed password vouches for set-up and people, counted from the last such act. */
const CONFIRMED_MILLIS = 30 * MILLIS_PER_MINUTE;
/** `seen_at` is written at most so often, so that reading does not write. */
const SEEN_STEP_MILLIS = MILLIS_PER_MINUTE;

export interface Sessions {
  /** Returns the secret for the cookie. */
  readonly begin: (person: string, address: string, agent: string) => string;
  readonly find: (secret: string) => Session | null;
  readonly see: (session: Session) => void;
  readonly confirm: (id: string) => void;
  /** Whether the password was typed lately; if so, it counts from now again. */
  readonly hasConfirmed: (id: string) => boolean;
  readonly of: (person: string) => readonly Session[];
  readonly end: (person: string, id: string) => boolean;
  /** All of a person but one. */
  readonly endAll: (person: string, except?: string) => void;
}

const COLUMNS = 'id, person, began_at AS beganAt, seen_at AS seenAt, address, agent';

/** `roleOf` returns null for a person who is no more: such a session is over. */
export const openSessions = (
  { writer, writeIfPossible }: LabDatabase,
  now: () => EpochMillis,
  roleOf: (person: string) => Role | null,
): Sessions => {
  const insert = writer.prepare('INSERT INTO session VALUES (?, ?, ?, ?, ?, ?, ?, ?)');
  const bySecret = writer.prepare<[string], Session>(`SELECT ${COLUMNS} FROM session WHERE secret = ?`);
  const byPerson = writer.prepare<[string], Session>(
    `SELECT ${COLUMNS} FROM session WHERE person = ? ORDER BY seen_at DESC`,
  );
  const see = writer.prepare('UPDATE session SET seen_at = ? WHERE id = ?');
  const confirm = writer.prepare('UPDATE session SET confirmed_at = ? WHERE id = ?');
  const confirmLately = writer.prepare(
    'UPDATE session SET confirmed_at = ? WHERE id = ? AND confirmed_at BETWEEN ? AND ?',
  );
  const end = writer.prepare('DELETE FROM session WHERE person = ? AND id = ?');
  const endAll = writer.prepare('DELETE FROM session WHERE person = ? AND id <> ?');
  const forget = writer.prepare('DELETE FROM session WHERE began_at <= ? OR seen_at <= ?');
  /** An instant to come is of a clock that ran ahead: as far off as a past one may be, or it would hold for years. */
  const isWithin = (at: EpochMillis, millis: number): boolean => Math.abs(now() - at) < millis;
  const isLive = (session: Session): boolean => {
    const role = roleOf(session.person);
    return (
      role !== null &&
      isWithin(session.beganAt, ABSOLUTE_MILLIS) &&
      isWithin(session.seenAt, IDLE_MILLIS[role])
    );
  };
  return {
    begin: (person, address, agent) => {
      forget.run(now() - ABSOLUTE_MILLIS, now() - LONGEST_IDLE_MILLIS);
      const secret = createSecret();
      insert.run(
        shortId(10),
        hashOfSecret(secret),
        person,
        now(),
        now(),
        now(),
        address,
        agent.slice(0, 200),
      );
      return secret;
    },
    find: (secret) => {
      const session = bySecret.get(hashOfSecret(secret));
      return session !== undefined && isLive(session) ? session : null;
    },
    see: (session) => {
      if (!isWithin(session.seenAt, SEEN_STEP_MILLIS)) writeIfPossible(() => see.run(now(), session.id));
    },
    confirm: (id) => {
      confirm.run(now(), id);
    },
    hasConfirmed: (id) =>
      confirmLately.run(now(), id, now() - CONFIRMED_MILLIS + 1, now() + CONFIRMED_MILLIS).changes > 0,
    of: (person) => byPerson.all(person).filter(isLive),
    end: (person, id) => end.run(person, id).changes > 0,
    endAll: (person, except = '') => {
      endAll.run(person, except);
    },
  };
};
