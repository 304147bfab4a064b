// Keys that are handed out and can be taken back: tokens for programs, links for wall screens and for calendars. Shown once, kept as
// a hash, valid until revoked, so that a wall opens again after weeks without network.

import type { LabDatabase } from '../../../lab/database/database.ts';
import type { Role } from '../../../lab/person.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { hashOfSecret, createSecret, shortId } from './secret.ts';

export type AccessKeyKind = 'program' | 'screen' | 'calendar';

export interface AccessKey {
  readonly id: string;
  readonly kind: AccessKeyKind;
  readonly name: string;
  /** Of programs; a screen only reads what hangs on the wall, a calendar its feed. */
  readonly role: Role | null;
  readonly madeBy: string;
  readonly madeAt: EpochMillis;
  readonly usedAt: EpochMillis | null;
}

export interface AccessKeys {
  readonly make: (
    kind: AccessKeyKind,
    name: string,
    role: Role | null,
    madeBy: string,
  ) => { readonly key: AccessKey; readonly secret: string };
  readonly find: (kind: AccessKeyKind, secret: string) => AccessKey | null;
  readonly all: (kind: AccessKeyKind) => readonly AccessKey[];
  readonly revoke: (kind: AccessKeyKind, id: string) => boolean;
}

const COLUMNS = 'id, kind, name, role, made_by AS madeBy, made_at AS madeAt, used_at AS usedAt';

/** A prefix names what the secret is when it turns up somewhere. */
const PREFIX: Readonly<Record<AccessKeyKind, string>> = { program: 'wwp_', screen: 'wws_', calendar: 'wwc_' };

export const openAccessKeys = (
  { writer, writeIfPossible }: LabDatabase,
  now: () => EpochMillis,
): AccessKeys => {
  const insert = writer.prepare('INSERT INTO access_key VALUES (?, ?, ?, ?, ?, ?, ?, NULL)');
  const bySecret = writer.prepare<[string, string], AccessKey>(
    `SELECT ${COLUMNS} FROM access_key WHERE kind = ? AND secret = ?`,
  );
  const all = writer.prepare<[string], AccessKey>(
    `SELECT ${COLUMNS} FROM access_key WHERE kind = ? ORDER BY made_at, id`,
  );
  const use = writer.prepare('UPDATE access_key SET used_at = ? WHERE id = ?');
  const revoke = writer.prepare('DELETE FROM access_key WHERE kind = ? AND id = ?');
  return {
    make: (kind, name, role, madeBy) => {
      const secret = `${PREFIX[kind]}${createSecret()}`;
      const id = shortId(8);
      insert.run(id, kind, hashOfSecret(secret), name, role, madeBy, now());
      return { key: { id, kind, name, role, madeBy, madeAt: now(), usedAt: null }, secret };
    },
    find: (kind, secret) => {
      const key = bySecret.get(kind, hashOfSecret(secret));
      if (key === undefined) return null;
      if (now() - (key.usedAt ?? 0) >= MILLIS_PER_HOUR) writeIfPossible(() => use.run(now(), key.id));
      return key;
    },
    all: (kind) => all.all(kind),
    revoke: (kind, id) => revoke.run(kind, id).changes > 0,
  };
};
