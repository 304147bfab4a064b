// Tables of JSON documents under their ids: records that are replaced, and histories that begin and end.

import type { LabDatabase } from './database.ts';

/** Records of one kind in the order in which they were first saved. */
export function openRecords<T>(database: Pick<LabDatabase, 'writer'>, name: string) {
  const { writer } = database;
  const all = writer.prepare<[], string>(`SELECT body FROM ${name} ORDER BY position, id`).pluck();
  const save = writer.prepare<[string, string]>(
    `INSERT INTO ${name} VALUES (?, (SELECT coalesce(max(position), 0) + 1 FROM ${name}), ?)
     ON CONFLICT (id) DO UPDATE SET body = excluded.body`,
  );
  const remove = writer.prepare<[string]>(`DELETE FROM ${name} WHERE id = ?`);
  const clear = writer.prepare(`DELETE FROM ${name}`);
  return {
    all: (): readonly T[] => all.all().map((body): T => JSON.parse(body)),
    save: (id: string, value: T): void => {
      save.run(id, JSON.stringify(value));
    },
    remove: (id: string): void => {
      remove.run(id);
    },
    clear: (): void => {
      clear.run();
    },
  };
}

/** Records that begin and end, and are kept for ever. */
export function openHistories<T>(database: Pick<LabDatabase, 'writer'>, name: string) {
  const { writer } = database;
  const open = writer
    .prepare<[], string>(`SELECT body FROM ${name} WHERE ended_at IS NULL ORDER BY began_at, id`)
    .pluck();
  const newest = writer
    .prepare<{ station: string | null; limit: number }, string>(
      `SELECT body FROM ${name} WHERE @station IS NULL OR station = @station ORDER BY began_at DESC, id LIMIT @limit`,
    )
    .pluck();
  const find = writer.prepare<[string], string>(`SELECT body FROM ${name} WHERE id = ?`).pluck();
  const save = writer.prepare<[string, string | null, string, string | null, string]>(
    `INSERT OR REPLACE INTO ${name} VALUES (?, ?, ?, ?, ?)`,
  );
  return {
    open: (): readonly T[] => open.all().map((body): T => JSON.parse(body)),
    newest: (station: string | null, limit: number): readonly T[] =>
      newest.all({ station, limit }).map((body): T => JSON.parse(body)),
    find: (id: string): T | undefined => {
      const body = find.get(id);
      return body === undefined ? undefined : JSON.parse(body);
    },
    save: (id: string, station: string | null, began: string, ended: string | null, value: T): void => {
      save.run(id, station, began, ended, JSON.stringify(value));
    },
  };
}
