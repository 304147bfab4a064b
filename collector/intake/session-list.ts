// The sessions at the embedded broker, what each has subscribed to, and which messages of QoS 2 its client has not
// released. A session belongs to a login and ends with it.

import type { LabDatabase } from '../../lab/database/database.ts';
import { type Problem, problem } from '../../wax/result.ts';
import { MILLIS_PER_DAY } from '../../wax/units.ts';
import type { SessionLimits } from './session-tables.ts';

export interface StoredSubscription {
  readonly session: string;
  readonly topic: string;
  readonly qos: number;
}

export interface SessionEvents {
  /** What a session lost to a limit. */
  readonly lost: (id: string, problem: Problem) => void;
  /** It has ended to make room. */
  readonly displaced: (id: string) => void;
}

export type SessionList = ReturnType<typeof sessionList>;

export function sessionList(database: LabDatabase, events: SessionEvents, limits: SessionLimits) {
  const { writer, transaction } = database;
  const exists = writer.prepare<[string], number>('SELECT 1 FROM session WHERE id = ?').pluck();
  const any = writer.prepare<[], number>('SELECT 1 FROM session LIMIT 1').pluck();
  const counts = writer.prepare<[string], { inAll: number; ofLogin: number }>(
    'SELECT count(*) AS inAll, count(*) FILTER (WHERE login = ?) AS ofLogin FROM session',
  );
  const longestAway = writer
    .prepare<{ login: string | null }, string>(
      `SELECT id FROM session WHERE away_since_millis IS NOT NULL AND (@login IS NULL OR login = @login)
       ORDER BY away_since_millis LIMIT 1`,
    )
    .pluck();
  const insert = writer.prepare<[string, string]>('INSERT INTO session (id, login) VALUES (?, ?)');
  const erase = writer.prepare<[string]>('DELETE FROM session WHERE id = ?');
  const mark = writer.prepare<[number | null, string]>(
    'UPDATE session SET away_since_millis = ?, is_cut = 0 WHERE id = ?',
  );
  const markAll = writer.prepare<[number]>(
    'UPDATE session SET away_since_millis = ? WHERE away_since_millis IS NULL',
  );
  const tooLong = writer
    .prepare<[number], string>('SELECT id FROM session WHERE away_since_millis < ?')
    .pluck();
  const logins = writer.prepare<[], { id: string; login: string }>('SELECT id, login FROM session');
  // Asked for each message that a gateway publishes, so the answer is remembered until a session comes or goes.
  let isEmpty: boolean | null = null;
  const remove = (id: string): void => {
    isEmpty = null;
    erase.run(id);
  };
  const tooMany = problem('too-many-sessions', { of_one_login: limits.ofOneLogin, in_all: limits.inAll });
  const displace = (login: string | null): boolean => {
    const id = longestAway.get({ login });
    if (id === undefined) return false;
    remove(id);
    events.displaced(id);
    events.lost(id, tooMany);
    return true;
  };
  const has = (id: string): boolean => exists.get(id) !== undefined;
  return {
    ...sessionContent(database, limits),
    has,
    isEmpty: (): boolean => {
      isEmpty ??= any.get() === undefined;
      return isEmpty;
    },
    /** False when there is no room and nobody is away who could make some. */
    open: (id: string, login: string): boolean =>
      transaction(() => {
        if (has(id)) return true;
        const { inAll, ofLogin } = counts.get(login) ?? { inAll: 0, ofLogin: 0 };
        const isLoginFull = ofLogin >= limits.ofOneLogin;
        const isFull = isLoginFull || inAll >= limits.inAll;
        if (isFull && !displace(isLoginFull ? login : null)) {
          events.lost(id, tooMany);
          return false;
        }
        isEmpty = null;
        insert.run(id, login);
        return true;
      }),
    end: (id: string): void => {
      remove(id);
    },
    /** Since when its client is away; null while it is there. */
    mark: (id: string, awaySinceMillis: number | null): void => {
      mark.run(awaySinceMillis, id);
    },
    /** After a start nobody is there; whoever was when we ended is away from now on. */
    markAll: (nowMillis: number): void => {
      markAll.run(nowMillis);
    },
    /** Ends those whose clients are away for too long, and returns their ids. */
    expire: (nowMillis: number): readonly string[] => {
      const ids = tooLong.all(nowMillis - limits.awayMillis);
      for (const id of ids) {
        remove(id);
        events.lost(id, problem('session-expired', { days: limits.awayMillis / MILLIS_PER_DAY }));
      }
      return ids;
    },
    /** Ends those of any other login than these, and returns their ids. */
    revokeOthers: (valid: ReadonlySet<string>): readonly string[] => {
      const ids = logins.all().flatMap(({ id, login }) => (valid.has(login) ? [] : [id]));
      for (const id of ids) remove(id);
      return ids;
    },
  };
}

function sessionContent({ writer }: LabDatabase, limits: SessionLimits) {
  const subscribe = writer.prepare<[string, string, number]>('REPLACE INTO subscription VALUES (?, ?, ?)');
  const unsubscribe = writer.prepare<[string, string]>(
    'DELETE FROM subscription WHERE session = ? AND topic = ?',
  );
  const subscriptions = writer.prepare<[], StoredSubscription>('SELECT * FROM subscription');
  const halfOpen = writer.prepare<[], { session: string; message_id: number }>('SELECT * FROM half_open');
  const halfOpenOf = writer
    .prepare<[string], number>('SELECT count(*) FROM half_open WHERE session = ?')
    .pluck();
  const beginHalf = writer.prepare<[string, number]>('REPLACE INTO half_open VALUES (?, ?)');
  const endHalf = writer.prepare<[string, number]>(
    'DELETE FROM half_open WHERE session = ? AND message_id = ?',
  );
  return {
    subscribe: (id: string, topic: string, qos: number): void => {
      subscribe.run(id, topic, qos);
    },
    unsubscribe: (id: string, topic: string): void => {
      unsubscribe.run(id, topic);
    },
    subscriptions: () => subscriptions.all(),
    halfOpen: () => halfOpen.all(),
    /** False when too many wait for their release. */
    beginHalfOpen: (id: string, messageId: number): boolean => {
      if ((halfOpenOf.get(id) ?? 0) >= limits.halfOpen) return false;
      beginHalf.run(id, messageId);
      return true;
    },
    endHalfOpen: (id: string, messageId: number): void => {
      endHalf.run(id, messageId);
    },
  };
}
