// Accounts of gateways at the embedded broker, each made by a one-time code: a manager makes the code on a screen, the
// gateway exchanges it for a password that nobody has to type, and that is kept here as a hash alone.

import { type GatewayAccount, passwordHashOf } from '../../../collector/intake/broker-access.ts';
import type { LabDatabase } from '../../../lab/database/database.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { hashOfCode, createCode, createSecret } from './secret.ts';

const CODE_MILLIS = MILLIS_PER_HOUR;
const STEPS = [
  `CREATE TABLE gateway_account (
     gateway TEXT PRIMARY KEY, password_hash TEXT NOT NULL, paired_at INTEGER NOT NULL) WITHOUT ROWID;
   CREATE TABLE pairing_code (code TEXT PRIMARY KEY, gateway TEXT NOT NULL, expires_at INTEGER NOT NULL) WITHOUT ROWID;`,
];

export interface PairedGateway extends GatewayAccount {
  readonly pairedAt: EpochMillis;
}

export interface GatewayAccounts {
  readonly all: () => readonly PairedGateway[];
  /** A code for this gateway; one before it is worthless then. */
  readonly invite: (gateway: string) => { readonly code: string; readonly expiresAt: EpochMillis };
  /** The gateway that a code is for; null when it is wrong, used or too old. */
  readonly invited: (code: string) => string | null;
  /** Uses the code up and returns the gateway's new password; a password that it had ends. */
  readonly pair: (code: string) => { readonly gateway: string; readonly password: string } | null;
  readonly remove: (gateway: string) => boolean;
}

export const openGatewayAccounts = (database: LabDatabase, now: () => EpochMillis): GatewayAccounts => {
  database.migrate('gateway-accounts', STEPS);
  const { writer } = database;
  const all = writer.prepare<[], PairedGateway>(
    `SELECT gateway, password_hash AS passwordHash, paired_at AS pairedAt FROM gateway_account ORDER BY gateway`,
  );
  const put = writer.prepare('INSERT OR REPLACE INTO gateway_account VALUES (?, ?, ?)');
  const remove = writer.prepare('DELETE FROM gateway_account WHERE gateway = ?');
  const forget = writer.prepare('DELETE FROM pairing_code WHERE gateway = ? OR expires_at <= ?');
  const invite = writer.prepare('INSERT INTO pairing_code VALUES (?, ?, ?)');
  // One that ends in more than twice the time that a code serves is of a clock that ran ahead, and would serve for years.
  const found = writer
    .prepare<[string, number, number], string>(
      'SELECT gateway FROM pairing_code WHERE code = ? AND expires_at > ? AND expires_at < ?',
    )
    .pluck();
  const invited = (code: string): string | null =>
    found.get(hashOfCode(code), now(), now() + 2 * CODE_MILLIS) ?? null;
  return {
    all: () => all.all(),
    invite: (gateway) => {
      const code = createCode();
      const expiresAt = epochMillis(now() + CODE_MILLIS);
      database.transaction(() => {
        forget.run(gateway, now());
        invite.run(hashOfCode(code), gateway, expiresAt);
      });
      return { code, expiresAt };
    },
    invited,
    pair: (code) =>
      database.transaction(() => {
        const gateway = invited(code);
        if (gateway === null) return null;
        const password = createSecret();
        forget.run(gateway, now());
        put.run(gateway, passwordHashOf(password), now());
        return { gateway, password };
      }),
    remove: (gateway) => remove.run(gateway).changes > 0,
  };
};
