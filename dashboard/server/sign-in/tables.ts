// Tables of sign-in. Of secrets only hashes are kept, but for that of a second factor, which is sealed. The people
// themselves are in the lab's own tables.
export const SIGN_IN_STEPS: readonly string[] = [
  `CREATE TABLE credential (person TEXT PRIMARY KEY, password TEXT NOT NULL, changed_at INTEGER NOT NULL) WITHOUT ROWID;
   CREATE TABLE invitation (code TEXT PRIMARY KEY, person TEXT, expires_at INTEGER NOT NULL) WITHOUT ROWID;
   CREATE TABLE session (
     id TEXT PRIMARY KEY, secret TEXT NOT NULL UNIQUE, person TEXT NOT NULL, began_at INTEGER NOT NULL,
     seen_at INTEGER NOT NULL, confirmed_at INTEGER NOT NULL, address TEXT NOT NULL, agent TEXT NOT NULL) WITHOUT ROWID;
   CREATE INDEX session_person ON session (person);
   CREATE TABLE access_key (
     id TEXT PRIMARY KEY, kind TEXT NOT NULL, secret TEXT NOT NULL UNIQUE, name TEXT NOT NULL, role TEXT,
     made_by TEXT NOT NULL, made_at INTEGER NOT NULL, used_at INTEGER) WITHOUT ROWID;`,
  `CREATE TABLE second_factor (
     person TEXT NOT NULL, is_on INTEGER NOT NULL, secret TEXT NOT NULL, used_step INTEGER NOT NULL,
     PRIMARY KEY (person, is_on)) WITHOUT ROWID;
   CREATE TABLE recovery_code (code TEXT PRIMARY KEY, person TEXT NOT NULL) WITHOUT ROWID;`,
];
