// A transaction of PostgreSQL around several queries.

import type { ClientBase } from 'pg';

/** All that `work` changes, or nothing of it. @throws what `work` or PostgreSQL says */
export async function inTransaction<T>(client: ClientBase, work: () => Promise<T>): Promise<T> {
  await client.query('BEGIN');
  try {
    const result = await work();
    await client.query('COMMIT');
    return result;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => {});
    throw error;
  }
}
