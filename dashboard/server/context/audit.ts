// The audit trail: who changed what, when, from what to what and why. Rows are only ever appended: triggers abort
// any other change, and each row carries the hash of the one before, so that a change made behind the program's
// back shows when the chain is verified. That rows are missing at the end shows only against a head that was kept
// elsewhere; `head` is for that. After the pattern of 21 CFR 11.10(e); no claim to comply with it.

import { createHash } from 'node:crypto';
import type { LabDatabase } from '../../../lab/database/database.ts';
import type { EpochMillis } from '../../../wax/units.ts';

interface AuditEntry {
  readonly actor: string;
  /** Role or standpoint at the time. */
  readonly role: string;
  readonly address: string;
  /** What was done, in kebab-case: `acknowledge`, `station-saved`, `signed-in`. */
  readonly action: string;
  readonly entity: string;
  readonly entityId: string;
  readonly before: unknown;
  readonly after: unknown;
  readonly reason: string | null;
}

export interface AuditRow extends AuditEntry {
  readonly sequence: number;
  readonly at: EpochMillis;
  readonly hash: string;
}

type Verdict =
  | { readonly ok: true; readonly rows: number; readonly head: string }
  | { readonly ok: false; readonly rows: number; readonly brokenAt: number };

interface AuditQuery {
  /** Rows older than this sequence; absent: from the newest. */
  readonly before?: number;
  readonly entity?: string;
  readonly entityId?: string;
  readonly limit: number;
}

export interface Audit {
  /** Returns the number of the row. */
  readonly record: (entry: AuditEntry) => number;
  /** Newest first. */
  readonly list: (query: AuditQuery) => readonly AuditRow[];
  /** Rows of these kinds in [from, to), oldest first. */
  readonly between: (from: EpochMillis, to: EpochMillis, entities: readonly string[]) => readonly AuditRow[];
  /** Hash of the newest row; null while there is none. */
  readonly head: () => string | null;
  readonly verify: () => Verdict;
}

const STEPS: readonly string[] = [
  `CREATE TABLE audit (
     sequence INTEGER PRIMARY KEY, at INTEGER NOT NULL, actor TEXT NOT NULL, role TEXT NOT NULL, address TEXT NOT NULL,
     action TEXT NOT NULL, entity TEXT NOT NULL, entity_id TEXT NOT NULL, before_json TEXT NOT NULL,
     after_json TEXT NOT NULL, reason TEXT, previous_hash TEXT NOT NULL, hash TEXT NOT NULL);
   CREATE INDEX audit_entity ON audit (entity, entity_id);
   CREATE TRIGGER audit_keeps_rows BEFORE UPDATE ON audit BEGIN SELECT raise(ABORT, 'the audit trail is append-only'); END;
   CREATE TRIGGER audit_keeps_all BEFORE DELETE ON audit BEGIN SELECT raise(ABORT, 'the audit trail is append-only'); END;`,
  'CREATE INDEX audit_at ON audit (at);',
];
/** What the first row follows. */
const GENESIS = '0'.repeat(64);

interface Row extends Omit<AuditRow, 'before' | 'after'> {
  readonly beforeJson: string;
  readonly afterJson: string;
  readonly previousHash: string;
}
const ROWS = `SELECT sequence, at, actor, role, address, action, entity, entity_id AS entityId,
  before_json AS beforeJson, after_json AS afterJson, reason, previous_hash AS previousHash, hash FROM audit`;

const hashOf = (row: Omit<Row, 'hash'>): string =>
  createHash('sha256')
    .update(
      JSON.stringify([
        row.sequence,
        row.at,
        row.actor,
        row.role,
        row.address,
        row.action,
        row.entity,
        row.entityId,
        row.beforeJson,
        row.afterJson,
        row.reason,
        row.previousHash,
      ]),
    )
    .digest('hex');

const rowOf = ({ beforeJson, afterJson, previousHash: _, ...row }: Row): AuditRow => ({
  ...row,
  before: JSON.parse(beforeJson),
  after: JSON.parse(afterJson),
});

export const openAudit = (database: LabDatabase, now: () => EpochMillis): Audit => {
  database.migrate('audit', STEPS);
  const { writer } = database;
  const newest = writer.prepare<[], Row>(`${ROWS} ORDER BY sequence DESC LIMIT 1`);
  const insert = writer.prepare(
    `INSERT INTO audit VALUES (@sequence, @at, @actor, @role, @address, @action, @entity, @entityId, @beforeJson,
     @afterJson, @reason, @previousHash, @hash)`,
  );
  const list = writer.prepare<
    { before: number | null; entity: string | null; entityId: string | null; limit: number },
    Row
  >(
    `${ROWS} WHERE (@before IS NULL OR sequence < @before) AND (@entity IS NULL OR entity = @entity)
     AND (@entityId IS NULL OR entity_id = @entityId) ORDER BY sequence DESC LIMIT @limit`,
  );
  const between = writer.prepare<{ from: number; to: number; entities: string }, Row>(
    `${ROWS} WHERE at >= @from AND at < @to AND entity IN (SELECT value FROM json_each(@entities))
     ORDER BY sequence`,
  );
  const inOrder = writer.prepare<[], Row>(`${ROWS} ORDER BY sequence`);
  return {
    record: ({ before, after, ...facts }) =>
      database.transaction(() => {
        const last = newest.get();
        const row = {
          ...facts,
          sequence: (last?.sequence ?? 0) + 1,
          at: now(),
          beforeJson: JSON.stringify(before ?? null),
          afterJson: JSON.stringify(after ?? null),
          previousHash: last?.hash ?? GENESIS,
        };
        insert.run({ ...row, hash: hashOf(row) });
        return row.sequence;
      }),
    list: ({ before, entity, entityId, limit }) =>
      list
        .all({ before: before ?? null, entity: entity ?? null, entityId: entityId ?? null, limit })
        .map(rowOf),
    between: (from, to, entities) => between.all({ from, to, entities: JSON.stringify(entities) }).map(rowOf),
    head: () => newest.get()?.hash ?? null,
    verify: () => {
      let rows = 0;
      let head = GENESIS;
      for (const row of inOrder.iterate()) {
        rows += 1;
        if (row.sequence !== rows || row.previousHash !== head || hashOf(row) !== row.hash)
          return { ok: false, rows, brokenAt: rows };
        head = row.hash;
      }
      return { ok: true, rows, head };
    },
  };
};
