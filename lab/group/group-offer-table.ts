// Offers of the group in the lab's database: open ones as the group lists them, answered ones for good. What an open
// offer holds never changes after it arrived, so that nobody accepts what they have not seen.

import type { LabDatabase } from '../database/database.ts';
import type { OfferAnswer } from './group-message.ts';
import type { Offer } from './group-offer.ts';

const STEPS = [
  `CREATE TABLE group_offer (
     id TEXT PRIMARY KEY, body TEXT NOT NULL, state TEXT NOT NULL, received_at INTEGER NOT NULL,
     answered_at INTEGER, answered_by TEXT, is_answer_due INTEGER NOT NULL DEFAULT 0
   ) WITHOUT ROWID;`,
];

/** Enough for years of offers; older answers stay in the audit trail. */
const MOST_SHOWN = 100;

export interface KeptOffer {
  readonly offer: Offer;
  readonly state: 'open' | OfferAnswer;
  readonly receivedAt: number;
  /** Null while it is open. */
  readonly answeredAt: number | null;
  readonly answeredBy: string | null;
}

export interface AnsweredOffer {
  readonly id: string;
  readonly answer: OfferAnswer;
  readonly at: number;
  readonly by: string;
}

export interface GroupOfferTable {
  /** Open ones first, then the newest. */
  readonly all: () => readonly KeptOffer[];
  readonly offer: (id: string) => KeptOffer | undefined;
  readonly openCount: () => number;
  /** All that the group offers now: an open one that is not among them was taken back. */
  readonly take: (offers: readonly Offer[], at: number) => void;
  readonly answer: (answered: AnsweredOffer) => void;
  /** The group has not got it yet. */
  readonly dueAnswer: () => AnsweredOffer | undefined;
  readonly settleAnswer: (id: string) => void;
  /** The link is off or leads elsewhere: what nobody has answered there is offered no more, and no answer waits. */
  readonly leave: () => void;
  readonly onChange: (listener: () => void) => () => void;
}

type Row = Omit<KeptOffer, 'offer'> & { readonly body: string };
const COLUMNS = `body, state, received_at AS receivedAt, answered_at AS answeredAt, answered_by AS answeredBy`;
const keptOffer = ({ body, ...row }: Row): KeptOffer => ({ ...row, offer: JSON.parse(body) as Offer });

export function openGroupOfferTable(database: LabDatabase): GroupOfferTable {
  database.migrate('lab/group-offers', STEPS);
  const { writer } = database;
  const all = writer.prepare<[number], Row>(
    `SELECT ${COLUMNS} FROM group_offer ORDER BY state <> 'open', coalesce(answered_at, received_at) DESC, id LIMIT ?`,
  );
  const byId = writer.prepare<[string], Row>(`SELECT ${COLUMNS} FROM group_offer WHERE id = ?`);
  const open = writer.prepare<[], string>("SELECT id FROM group_offer WHERE state = 'open'").pluck();
  const add = writer.prepare<[string, string, number]>(
    "INSERT OR IGNORE INTO group_offer (id, body, state, received_at) VALUES (?, ?, 'open', ?)",
  );
  const remove = writer.prepare<[string]>('DELETE FROM group_offer WHERE id = ?');
  const answerAgain = writer.prepare<[string]>(
    "UPDATE group_offer SET is_answer_due = 1 WHERE id = ? AND state <> 'open'",
  );
  const answer = writer.prepare<[string, number, string, string]>(
    `UPDATE group_offer SET state = ?, answered_at = ?, answered_by = ?, is_answer_due = 1
     WHERE id = ? AND state = 'open'`,
  );
  const due = writer.prepare<[], AnsweredOffer>(
    `SELECT id, state AS answer, answered_at AS "at", answered_by AS "by" FROM group_offer
     WHERE is_answer_due = 1 ORDER BY answered_at LIMIT 1`,
  );
  const settle = writer.prepare<[string]>('UPDATE group_offer SET is_answer_due = 0 WHERE id = ?');
  const listeners = new Set<() => void>();
  const changeOffers = <T>(work: () => T): T =>
    database.transaction(() => {
      database.afterTransaction(() => {
        for (const listener of listeners) listener();
      });
      return work();
    });
  return {
    all: () => all.all(MOST_SHOWN).map(keptOffer),
    offer: (id) => {
      const row = byId.get(id);
      return row === undefined ? undefined : keptOffer(row);
    },
    openCount: () => open.all().length,
    take: (offers, at) =>
      changeOffers(() => {
        const listed = new Set(offers.map(({ id }) => id));
        for (const id of open.all()) if (!listed.has(id)) remove.run(id);
        for (const offer of offers) {
          add.run(offer.id, JSON.stringify(offer), at);
          // It is listed although it was answered: the answer has not arrived.
          answerAgain.run(offer.id);
        }
      }),
    answer: ({ id, answer: decided, at, by }) => void changeOffers(() => answer.run(decided, at, by, id)),
    dueAnswer: () => due.get(),
    settleAnswer: (id) => void settle.run(id),
    leave: () =>
      changeOffers(() => {
        for (const id of open.all()) remove.run(id);
        writer.exec('UPDATE group_offer SET is_answer_due = 0');
      }),
    onChange: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
