// The second factor that a person may switch on: codes of an authenticator app (TOTP, RFC 6238), and recovery codes for
// the day on which the device is lost. Each serves once. The secret is kept sealed, because codes are computed from
// it; of recovery codes only hashes are kept.

import { Secret, TOTP } from 'otpauth';
import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { isSealed, seal, unseal } from './sealed-secret.ts';
import { hashOfCode, createCode } from './secret.ts';

/** Steps before and after the present one whose code is taken too: for a clock that is off and for slow typing. */
const WINDOW_STEPS = 1;
const RECOVERY_CODES = 10;

/** What every authenticator app computes: SHA-1, six digits, steps of 30 seconds. */
const totpOf = (secret: string, names: { readonly issuer?: string; readonly label?: string } = {}): TOTP =>
  new TOTP({ ...names, secret: Secret.fromBase32(secret), algorithm: 'SHA1', digits: 6, period: 30 });

/** The step of 30 seconds since 1970 whose code this is, at most one from that of `at`; null where it is of none. */
export const stepOfCode = (secret: string, code: string, at: EpochMillis): number | null => {
  const totp = totpOf(secret);
  const delta = totp.validate({ token: code.replace(/\s/g, ''), timestamp: at, window: WINDOW_STEPS });
  return delta === null ? null : totp.counter({ timestamp: at }) + delta;
};

export interface SecondFactors {
  /** Null while the person has none. */
  readonly recoveryCodesLeft: (person: string) => number | null;
  /** Makes a secret, which counts from the first code of it on. `address` is what an app reads as a picture. */
  readonly begin: (
    person: string,
    names: { readonly issuer: string; readonly label: string },
  ) => { readonly secret: string; readonly address: string };
  /** Returns the recovery codes, this once; null where the code is not of the secret that was begun. */
  readonly switchOn: (person: string, code: string) => readonly string[] | null;
  readonly switchOff: (person: string) => void;
  /** What the code was; null where it is wrong or was used. It serves no second time. */
  readonly use: (person: string, code: string) => 'app' | 'recovery' | null;
}

interface Row {
  readonly secret: string;
  readonly used_step: number;
}

/** What an earlier version kept as it is; nothing of it stays readable in the file. */
function sealOlder({ writer, transaction }: LabDatabase, key: Buffer): void {
  const plain = writer
    .prepare<[], { readonly person: string; readonly secret: string }>(
      'SELECT person, secret FROM second_factor',
    )
    .all()
    .filter(({ secret }) => !isSealed(secret));
  if (plain.length === 0) return;
  const change = writer.prepare('UPDATE second_factor SET secret = ? WHERE person = ? AND secret = ?');
  writer.pragma('secure_delete = ON');
  transaction(() => {
    for (const { person, secret } of plain) change.run(seal(key, person, secret), person, secret);
  });
  writer.pragma('wal_checkpoint(TRUNCATE)');
  writer.pragma('secure_delete = OFF');
}

/** `key`, of 32 bytes, seals the secrets. */
export const openSecondFactors = (
  database: LabDatabase,
  now: () => EpochMillis,
  key: Buffer,
): SecondFactors => {
  const { writer, transaction } = database;
  sealOlder(database, key);
  const find = writer.prepare<[string, number], Row>(
    'SELECT secret, used_step FROM second_factor WHERE person = ? AND is_on = ?',
  );
  const begin = writer.prepare('INSERT OR REPLACE INTO second_factor VALUES (?, 0, ?, -1)');
  const switchOn = writer.prepare('UPDATE second_factor SET is_on = 1 WHERE person = ? AND is_on = 0');
  const noteStep = writer.prepare('UPDATE second_factor SET used_step = ? WHERE person = ? AND is_on = ?');
  const forget = writer.prepare('DELETE FROM second_factor WHERE person = ? AND is_on >= ?');
  const addCode = writer.prepare('INSERT INTO recovery_code VALUES (?, ?)');
  const useCode = writer.prepare('DELETE FROM recovery_code WHERE code = ? AND person = ?');
  const forgetCodes = writer.prepare('DELETE FROM recovery_code WHERE person = ?');
  const countCodes = writer
    .prepare<[string], number>('SELECT count(*) FROM recovery_code WHERE person = ?')
    .pluck();
  /** A code that was seen over a shoulder serves nobody: its step counts once (RFC 6238, 5.2). */
  const useOfApp = (person: string, isOn: 0 | 1, code: string): boolean => {
    const row = find.get(person, isOn);
    const secret = row === undefined ? null : unseal(key, person, row.secret);
    const step = secret === null ? null : stepOfCode(secret, code, now());
    if (row === undefined || step === null) return false;
    // A step far ahead was used before the clock was set back, and must not lock its person out.
    if (step <= row.used_step && row.used_step <= step + 2 * WINDOW_STEPS) return false;
    noteStep.run(step, person, isOn);
    return true;
  };
  return {
    recoveryCodesLeft: (person) => (find.get(person, 1) === undefined ? null : (countCodes.get(person) ?? 0)),
    begin: (person, names) => {
      const secret = new Secret({ size: 20 }).base32;
      begin.run(person, seal(key, person, secret));
      return { secret, address: totpOf(secret, names).toString() };
    },
    switchOn: (person, code) =>
      transaction(() => {
        if (!useOfApp(person, 0, code)) return null;
        forget.run(person, 1);
        switchOn.run(person);
        forgetCodes.run(person);
        const codes = Array.from({ length: RECOVERY_CODES }, createCode);
        for (const recovery of codes) addCode.run(hashOfCode(recovery), person);
        return codes;
      }),
    switchOff: (person) =>
      transaction(() => {
        forget.run(person, 0);
        forgetCodes.run(person);
      }),
    use: (person, code) => {
      if (useOfApp(person, 1, code)) return 'app';
      return find.get(person, 1) !== undefined && useCode.run(hashOfCode(code), person).changes > 0
        ? 'recovery'
        : null;
    },
  };
};
