// To whom the night sheet is mailed and what was sent: the setting, and one line for each night and person.

import { type SendAnswer, readSendAnswer } from '../../../alerts/notices/outbox/send-answer.ts';
import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import type { NightDelivery } from '../../api/night-delivery.ts';

const STEPS = [
  `CREATE TABLE night_post (one INTEGER PRIMARY KEY CHECK (one = 1), setting TEXT NOT NULL);
   CREATE TABLE night_posted (date TEXT NOT NULL, person TEXT NOT NULL, state TEXT NOT NULL, attempts INTEGER NOT NULL,
     next_at INTEGER NOT NULL, at INTEGER NOT NULL, detail TEXT NOT NULL, PRIMARY KEY (date, person)) WITHOUT ROWID;`,
];

export interface MailedNight {
  readonly date: string;
  readonly person: string;
  /** `sending` was on its way when it was written; it is tried again. */
  readonly state: 'sending' | 'again' | 'sent' | 'refused';
  readonly attempts: number;
  readonly nextAt: EpochMillis;
  readonly at: EpochMillis;
  /** What the mail server answered; null while it is on its way. */
  readonly answer: SendAnswer | null;
}

export interface MailRecord {
  readonly setting: () => NightDelivery;
  readonly change: (setting: NightDelivery) => void;
  readonly mailed: (date: string, person: string) => MailedNight | null;
  readonly newest: () => readonly MailedNight[];
  readonly put: (row: MailedNight) => void;
}

interface StoredNight extends Omit<MailedNight, 'answer'> {
  readonly detail: string;
}
const readMailedNight = ({ detail, ...row }: StoredNight): MailedNight => ({
  ...row,
  answer: readSendAnswer(detail),
});

const OFF: NightDelivery = { time: 'off', recipients: [], paper: 'a4' };
const NEWEST = 20;

export const openMailRecord = (database: LabDatabase): MailRecord => {
  database.migrate('night post', STEPS);
  const { writer } = database;
  const setting = writer.prepare<[], string>('SELECT setting FROM night_post').pluck();
  const change = writer.prepare('INSERT OR REPLACE INTO night_post VALUES (1, ?)');
  const columns = 'date, person, state, attempts, next_at AS nextAt, at, detail';
  const find = writer.prepare<[string, string], StoredNight>(
    `SELECT ${columns} FROM night_posted WHERE date = ? AND person = ?`,
  );
  const newest = writer.prepare<[number], StoredNight>(
    `SELECT ${columns} FROM night_posted ORDER BY date DESC, person LIMIT ?`,
  );
  const put = writer.prepare(
    'INSERT OR REPLACE INTO night_posted VALUES (@date, @person, @state, @attempts, @nextAt, @at, @detail)',
  );
  return {
    setting: () => {
      const text = setting.get();
      // Written below, from a checked body.
      return text === undefined ? OFF : (JSON.parse(text) as NightDelivery);
    },
    change: (next) => void change.run(JSON.stringify(next)),
    mailed: (date, person) => {
      const row = find.get(date, person);
      return row === undefined ? null : readMailedNight(row);
    },
    newest: () => newest.all(NEWEST).map(readMailedNight),
    put: ({ answer, ...row }) =>
      void put.run({ ...row, detail: answer === null ? '' : JSON.stringify(answer) }),
  };
};
