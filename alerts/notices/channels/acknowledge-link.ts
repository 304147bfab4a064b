// A token by which a notification acknowledges its alarms without a page: signed, for one person and one raising of
// each alarm that it names, good for a few hours and for one use. It holds nothing secret; a change breaks the signature.

import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { LabDatabase } from '../../../lab/database/database.ts';
import { failure, type Result, success } from '../../../wax/result.ts';
import { type EpochMillis, MILLIS_PER_HOUR } from '../../../wax/units.ts';
import { derivedKey } from './notice-keys.ts';

const LINK_MILLIS = 4 * MILLIS_PER_HOUR;

export interface LinkFacts {
  readonly alarm: string;
  /** How often the alarm had come: a later coming needs a link of its own. */
  readonly count: number;
  readonly person: string;
  /** Numbers of the outbox rows of a message that names several alarms; absent where it names one. */
  readonly rows?: readonly number[];
}

interface Signed extends LinkFacts {
  readonly nonce: string;
  readonly until: number;
}

export interface AcknowledgeLinks {
  readonly make: (facts: LinkFacts, now: EpochMillis) => string;
  /** What a good link holds; it can be used again until `use`. */
  readonly check: (token: string, now: EpochMillis) => Result<LinkFacts & { readonly nonce: string }>;
  /** False when it was used before. */
  readonly use: (nonce: string, now: EpochMillis) => boolean;
}

const STEPS = ['CREATE TABLE used_link (nonce TEXT PRIMARY KEY, used_at INTEGER NOT NULL) WITHOUT ROWID;'];

export function acknowledgeLinks(database: LabDatabase, secret: string): AcknowledgeLinks {
  database.migrate('used links', STEPS);
  const key = derivedKey(secret, 'acknowledge link');
  const used = database.writer.prepare<[string], number>('SELECT 1 FROM used_link WHERE nonce = ?').pluck();
  const mark = database.writer.prepare('INSERT OR IGNORE INTO used_link VALUES (?, ?)');
  const forget = database.writer.prepare('DELETE FROM used_link WHERE used_at < ?');
  const sign = (text: string): Buffer => createHmac('sha256', key).update(text).digest();
  return {
    make: (facts, now) => {
      const signed: Signed = {
        ...facts,
        nonce: randomBytes(12).toString('base64url'),
        until: now + LINK_MILLIS,
      };
      const text = Buffer.from(JSON.stringify(signed)).toString('base64url');
      return `${text}.${sign(text).toString('base64url')}`;
    },
    check: (token, now) => {
      const [text = '', signature = ''] = token.split('.');
      const given = Buffer.from(signature, 'base64url');
      const right = sign(text);
      if (given.length !== right.length || !timingSafeEqual(given, right)) return failure('link-forged');
      const { nonce, until, ...facts } = JSON.parse(Buffer.from(text, 'base64url').toString()) as Signed;
      if (now >= until) return failure('link-expired');
      if (used.get(nonce) !== undefined) return failure('link-used');
      return success({ ...facts, nonce });
    },
    use: (nonce, now) => {
      forget.run(now - 2 * LINK_MILLIS);
      return mark.run(nonce, now).changes === 1;
    },
  };
}
