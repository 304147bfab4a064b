// The people of the group. Each signs in by a key that is shown once and kept only as a hash, or by the account of an
// identity provider that vouches for their e-mail address. A key is 128 random bits, so that a fast hash does and
// guessing is hopeless. People of the labs are the labs' own and not known here.

import { createHash, randomBytes } from 'node:crypto';
import type pg from 'pg';

export const SESSION_HOURS = 12;
const secret = (): string => randomBytes(16).toString('base64url');
const hashOf = (text: string): Buffer => createHash('sha256').update(text).digest();
/** Providers give addresses in any case. */
const foldCase = (email: string): string => email.trim().toLowerCase();

type Queries = Pick<pg.ClientBase, 'query'>;

export interface GroupPerson {
  readonly name: string;
  /** Sees this lab only; null: all of the group. */
  readonly site: string | null;
  /** Offers figures and lots to labs. */
  readonly isGiver: boolean;
}

export interface AddedPerson {
  /** The address that the identity provider vouches for; absent: by key. */
  readonly email?: string;
  readonly site?: string;
  /** Never of a person who sees one lab only. */
  readonly isGiver?: boolean;
}

/**
 * Returns the key, null for a person who signs in by a provider. A person who is there already is replaced, and old key,
 * address and sessions end.
 */
export async function addPerson(
  client: Queries,
  name: string,
  { email, isGiver = false, site }: AddedPerson = {},
): Promise<string | null> {
  const key = email === undefined ? secret() : null;
  const address = email === undefined ? null : foldCase(email);
  await client.query('DELETE FROM group_person WHERE name = $1 OR email = $2', [name, address]);
  await client.query(
    `INSERT INTO group_person (name, key_hash, added_at, email, site, is_giver)
     VALUES ($1, $2, now(), $3, $4, $5)`,
    [name, key === null ? null : hashOf(key), address, site ?? null, isGiver && site === undefined],
  );
  return key;
}

/** False when there is nobody of that name. */
export const removePerson = async (client: Queries, name: string): Promise<boolean> =>
  (await client.query('DELETE FROM group_person WHERE name = $1', [name])).rowCount === 1;

const newSession = async (
  client: Queries,
  column: 'key_hash' | 'email',
  value: Buffer | string,
): Promise<string | null> => {
  const token = secret();
  const { rowCount } = await client.query(
    `INSERT INTO group_session SELECT $1, name, now() + make_interval(hours => $2) FROM group_person WHERE ${column} = $3`,
    [hashOf(token), SESSION_HOURS, value],
  );
  return rowCount === 1 ? token : null;
};

/** Returns the token of a new session; null for a key that is not known. */
export const signIn = (client: Queries, key: string): Promise<string | null> =>
  newSession(client, 'key_hash', hashOf(key));

/** By an address that a provider has verified; null when nobody was added with it. */
export const signInByEmail = (client: Queries, email: string): Promise<string | null> =>
  newSession(client, 'email', foldCase(email));

export async function findSignedIn(client: Queries, token: string): Promise<GroupPerson | null> {
  const { rows } = await client.query<GroupPerson>(
    `SELECT name, site, is_giver AS "isGiver" FROM group_session JOIN group_person USING (name) WHERE token_hash = $1 AND ends_at > now()`,
    [hashOf(token)],
  );
  return rows[0] ?? null;
}

export const signOut = async (client: Queries, token: string): Promise<void> => {
  await client.query('DELETE FROM group_session WHERE token_hash = $1 OR ends_at <= now()', [hashOf(token)]);
};
