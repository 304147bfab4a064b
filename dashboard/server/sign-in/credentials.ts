// Which person has which password, and the one-time codes by which a person sets the first or a forgotten one.
// Nobody ever knows another one's password, and none is there from the start.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { LabRepository } from '../../../lab/database/lab-repository.ts';
import { type EpochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { hashOfCode, createCode } from './secret.ts';

export const INVITATION_DAYS = 7;
const INVITATION_MILLIS = INVITATION_DAYS * MILLIS_PER_DAY;

/** `person` null: whoever has the code becomes the first manager. */
interface Invitation {
  readonly person: string | null;
}

export interface Credentials {
  readonly passwordOf: (person: string) => string | null;
  readonly setPassword: (person: string, hash: string) => void;
  readonly remove: (person: string) => void;
  readonly invite: (person: string | null) => string;
  readonly invitation: (code: string) => Invitation | null;
  /** A code serves once. */
  /** False where it was used or taken back meanwhile. */
  readonly useInvitation: (code: string) => boolean;
}

export const openCredentials = ({ writer }: LabDatabase, now: () => EpochMillis): Credentials => {
  const password = writer
    .prepare<[string], string>('SELECT password FROM credential WHERE person = ?')
    .pluck();
  const set = writer.prepare(
    `INSERT INTO credential VALUES (?, ?, ?)
     ON CONFLICT (person) DO UPDATE SET password = excluded.password, changed_at = excluded.changed_at`,
  );
  const remove = writer.prepare('DELETE FROM credential WHERE person = ?');
  const invite = writer.prepare('INSERT INTO invitation VALUES (?, ?, ?)');
  // One that ends in more than twice the time that a code serves is of a clock that ran ahead, and would serve for years.
  const found = writer.prepare<[string, number, number], Invitation>(
    'SELECT person FROM invitation WHERE code = ? AND expires_at > ? AND expires_at < ?',
  );
  const forgetCode = writer.prepare('DELETE FROM invitation WHERE code = ?');
  const forgetFor = writer.prepare('DELETE FROM invitation WHERE person IS ? OR expires_at <= ?');
  return {
    passwordOf: (person) => password.get(person) ?? null,
    setPassword: (person, hash) => {
      set.run(person, hash, now());
    },
    remove: (person) => {
      remove.run(person);
      forgetFor.run(person, now());
    },
    invite: (person) => {
      forgetFor.run(person, now());
      const code = createCode();
      invite.run(hashOfCode(code), person, now() + INVITATION_MILLIS);
      return code;
    },
    invitation: (code) => found.get(hashOfCode(code), now(), now() + 2 * INVITATION_MILLIS) ?? null,
    useInvitation: (code) => forgetCode.run(hashOfCode(code)).changes === 1,
  };
};

export const hasManager = (repository: LabRepository, credentials: Credentials): boolean =>
  repository
    .lab()
    .people.some((person) => person.role === 'manager' && credentials.passwordOf(person.id) !== null);
