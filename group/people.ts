// The people of the group: each has a key that is shown once and kept only as a hash. A key is 128 random bits, so that
// a fast hash does and guessing is hopeless. People of the labs are the labs' own and not known here.

import { createHash, randomBytes } from 'node:crypto';
import type pg from 'pg';

const SESSION_HOURS = 12;
const secret = (): string => randomBytes(16).toString('base64url');
const hashOf = (text: string): Buffer => createHash('sha256').update(text).digest();

type Queries = Pick<pg.ClientBase, 'query'>;

/** Answers the key; a person that is there already gets a new one, and the old one ends with its sessions. */
export async function addPerson(client: Queries, name: string): Promise<string> {
  const key = secret();
  await client.query('DELETE FROM group_person WHERE name = $1', [name]);
  await client.query('INSERT INTO group_person VALUES ($1, $2, now())', [name, hashOf(key)]);
  return key;
}

/** False when there is nobody of that name. */
export const removePerson = async (client: Queries, name: string): Promise<boolean> =>
  (await client.query('DELETE FROM group_person WHERE name = $1', [name])).rowCount === 1;

/** Answers the token of a new session; null for a key that is not known. */
export async function signIn(client: Queries, key: string): Promise<string | null> {
  const token = secret();
  const { rowCount } = await client.query(
    `INSERT INTO group_session SELECT $1, name, now() + make_interval(hours => $2) FROM group_person WHERE key_hash = $3`,
    [hashOf(token), SESSION_HOURS, hashOf(key)],
  );
  return rowCount === 1 ? token : null;
}

export async function signedIn(client: Queries, token: string): Promise<string | null> {
  const { rows } = await client.query<{ name: string }>(
    'SELECT name FROM group_session WHERE token_hash = $1 AND ends_at > now()',
    [hashOf(token)],
  );
  return rows[0]?.name ?? null;
}

export const signOut = async (client: Queries, token: string): Promise<void> => {
  await client.query('DELETE FROM group_session WHERE token_hash = $1 OR ends_at <= now()', [hashOf(token)]);
};
