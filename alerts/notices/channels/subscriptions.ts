// The phones that are subscribed, each with its person. The endpoint is the address of a push service and must be
// one of the known ones: else a subscription could make this program call any address of the network.

import { createHash } from 'node:crypto';
import type { LabDatabase } from '../../../lab/database/database.ts';
import { failure, type Result, success } from '../../../wax/result.ts';
import type { EpochMillis } from '../../../wax/units.ts';

export interface PushSubscriptionFacts {
  readonly endpoint: string;
  readonly keys: { readonly p256dh: string; readonly auth: string };
}
export interface Subscription extends PushSubscriptionFacts {
  readonly id: string;
  readonly person: string;
  /** As the phone calls itself. */
  readonly name: string;
  readonly madeAt: EpochMillis;
  /** When the phone last showed a test; null for never. */
  readonly testedAt: EpochMillis | null;
}

export interface Subscriptions {
  readonly save: (person: string, facts: PushSubscriptionFacts, name: string, now: EpochMillis) => string;
  /** Removes exactly this endpoint, so that a renewed subscription of the same phone stays. */
  readonly remove: (id: string) => boolean;
  readonly removeOf: (person: string, endpoint: string) => boolean;
  /** False when the person had none. */
  readonly removeAllOf: (person: string) => boolean;
  readonly find: (id: string) => Subscription | null;
  readonly of: (person: string) => readonly Subscription[];
  readonly all: () => readonly Subscription[];
  readonly tested: (id: string, now: EpochMillis) => void;
  /** Whether a phone ever was subscribed here. */
  readonly everHad: () => boolean;
}

const STEPS = [
  `CREATE TABLE push_subscription (
     id TEXT PRIMARY KEY, person TEXT NOT NULL, endpoint TEXT NOT NULL, p256dh TEXT NOT NULL, auth TEXT NOT NULL,
     name TEXT NOT NULL, made_at INTEGER NOT NULL, tested_at INTEGER) WITHOUT ROWID;
   CREATE INDEX push_subscription_person ON push_subscription (person);
   CREATE TABLE push_ever (only INTEGER PRIMARY KEY CHECK (only = 1));`,
];

const subscriptionId = (endpoint: string): string =>
  createHash('sha256').update(endpoint).digest('base64url').slice(0, 22);

const COLUMNS = 'id, person, endpoint, p256dh, auth, name, made_at AS madeAt, tested_at AS testedAt';
type Row = Omit<Subscription, 'keys'> & Subscription['keys'];
const subscriptionOf = ({ p256dh, auth, ...row }: Row): Subscription => ({ ...row, keys: { p256dh, auth } });

export function openSubscriptions(database: LabDatabase): Subscriptions {
  database.migrate('push subscriptions', STEPS);
  const { writer } = database;
  const save = writer.prepare(
    `INSERT INTO push_subscription VALUES (?, ?, ?, ?, ?, ?, ?, NULL) ON CONFLICT (id) DO UPDATE SET
     person = excluded.person, p256dh = excluded.p256dh, auth = excluded.auth, name = excluded.name`,
  );
  const ever = writer.prepare('INSERT OR IGNORE INTO push_ever VALUES (1)');
  const hadAny = writer.prepare<[], number>('SELECT 1 FROM push_ever').pluck();
  const remove = writer.prepare('DELETE FROM push_subscription WHERE id = ?');
  const removeOf = writer.prepare('DELETE FROM push_subscription WHERE id = ? AND person = ?');
  const removeAllOf = writer.prepare('DELETE FROM push_subscription WHERE person = ?');
  const find = writer.prepare<[string], Row>(`SELECT ${COLUMNS} FROM push_subscription WHERE id = ?`);
  const of = writer.prepare<[string], Row>(
    `SELECT ${COLUMNS} FROM push_subscription WHERE person = ? ORDER BY made_at, id`,
  );
  const all = writer.prepare<[], Row>(`SELECT ${COLUMNS} FROM push_subscription ORDER BY made_at, id`);
  const tested = writer.prepare('UPDATE push_subscription SET tested_at = ? WHERE id = ?');
  return {
    save: (person, { endpoint, keys }, name, now) => {
      const id = subscriptionId(endpoint);
      database.transaction(() => {
        save.run(id, person, endpoint, keys.p256dh, keys.auth, name, now);
        ever.run();
      });
      return id;
    },
    remove: (id) => remove.run(id).changes === 1,
    removeOf: (person, endpoint) => removeOf.run(subscriptionId(endpoint), person).changes === 1,
    removeAllOf: (person) => removeAllOf.run(person).changes > 0,
    find: (id) => {
      const row = find.get(id);
      return row === undefined ? null : subscriptionOf(row);
    },
    of: (person) => of.all(person).map(subscriptionOf),
    all: () => all.all().map(subscriptionOf),
    tested: (id, now) => {
      tested.run(now, id);
    },
    everHad: () => hadAny.get() !== undefined,
  };
}

/** Hosts of the push services that browsers subscribe to; a leading dot stands for every name below. */
const PUSH_HOSTS = [
  'fcm.googleapis.com',
  '.push.services.mozilla.com',
  '.push.apple.com',
  '.notify.windows.com',
] as const;

/** `more` are hosts (with port) that the lab names besides. */
export function checkEndpoint(endpoint: string, more: readonly string[]): Result<string> {
  const url = URL.canParse(endpoint) ? new URL(endpoint) : null;
  const isKnown =
    url !== null &&
    url.protocol === 'https:' &&
    url.username === '' &&
    url.password === '' &&
    (more.includes(url.host) ||
      (url.port === '' &&
        PUSH_HOSTS.some((host) =>
          host.startsWith('.') ? url.hostname.endsWith(host) : url.hostname === host,
        )));
  return isKnown ? success(endpoint) : failure('push-service-unknown', {}, endpoint);
}
