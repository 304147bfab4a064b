// What the embedded broker keeps of a client that requested a session (MQTT 3.1.1, 3.1.2.4), over its absence and over our
// own restart, in a file of its own. It is written without waiting for the disk: the end of the process, however it
// comes, loses nothing of it, a power cut the newest.

import { type LabDatabase, openDatabase } from '../../lab/database/database.ts';

export interface SessionLimits {
  readonly inAll: number;
  readonly ofOneLogin: number;
  /** Of one session: messages that wait, their bytes, and messages of QoS 2 that are half done. */
  readonly messages: number;
  readonly bytes: number;
  readonly halfOpen: number;
  /** How long its client may stay away. */
  readonly awayMillis: number;
}

/** For lamps and screens at the bench; a lab that needs more needs a broker of its own. */
export const SESSION_LIMITS: SessionLimits = {
  inAll: 200,
  ofOneLogin: 50,
  awayMillis: 7 * 24 * 3_600_000,
  messages: 1000,
  bytes: 1024 * 1024,
  halfOpen: 1000,
};

const STEPS = [
  `CREATE TABLE session (id TEXT PRIMARY KEY, login TEXT NOT NULL, away_since_millis INTEGER,
     messages INTEGER NOT NULL DEFAULT 0, bytes INTEGER NOT NULL DEFAULT 0, is_cut INTEGER NOT NULL DEFAULT 0) WITHOUT ROWID;
   CREATE TABLE subscription (session TEXT NOT NULL REFERENCES session ON DELETE CASCADE, topic TEXT NOT NULL,
     qos INTEGER NOT NULL, PRIMARY KEY (session, topic)) WITHOUT ROWID;
   CREATE TABLE half_open (session TEXT NOT NULL REFERENCES session ON DELETE CASCADE, message_id INTEGER NOT NULL,
     PRIMARY KEY (session, message_id)) WITHOUT ROWID;
   CREATE TABLE waiting (number INTEGER PRIMARY KEY, session TEXT NOT NULL REFERENCES session ON DELETE CASCADE,
     command TEXT NOT NULL, topic TEXT NOT NULL, payload BLOB NOT NULL, bytes INTEGER NOT NULL, qos INTEGER NOT NULL,
     dup INTEGER NOT NULL, broker TEXT, counter INTEGER, message_id INTEGER);
   CREATE INDEX waiting_in_turn ON waiting (session, number);
   CREATE INDEX waiting_sent ON waiting (session, message_id);
   CREATE INDEX waiting_named ON waiting (session, counter);
   CREATE TRIGGER waiting_begins AFTER INSERT ON waiting BEGIN
     UPDATE session SET messages = messages + 1, bytes = bytes + NEW.bytes WHERE id = NEW.session; END;
   CREATE TRIGGER waiting_ends AFTER DELETE ON waiting BEGIN
     UPDATE session SET messages = messages - 1, bytes = bytes - OLD.bytes WHERE id = OLD.session; END;`,
];
/** Copied back in small steps, since whoever copies waits for the disk. */
const LOG_PAGES = 250;

/** @throws DatabaseRefusal */
export function openSessionTables(file: string): LabDatabase {
  const database = openDatabase(file);
  database.writer.pragma('synchronous = NORMAL');
  database.writer.pragma(`wal_autocheckpoint = ${LOG_PAGES}`);
  database.migrate('sessions', STEPS);
  return database;
}
