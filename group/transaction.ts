// A transaction of PostgreSQL around several queries, and queries beside it on the same connection.

import type { ClientBase } from 'pg';
import { errorCode } from '../wax/problem-error.ts';

/** SQLSTATE of a connection on which another transaction has just failed and is being undone. */
const IN_FAILED_TRANSACTION = '25P02';

/**
 * Asks again while a transaction of somebody else on the connection has failed: its end is on its way.
 * @throws any other error of PostgreSQL
 */
export async function besideTransactions<T>(ask: () => Promise<T>): Promise<T> {
  for (;;)
    try {
      return await ask();
    } catch (error) {
      if (errorCode(error) !== IN_FAILED_TRANSACTION) throw error;
    }
}

/** All that `work` changes, or nothing of it. @throws the error of `work` or of PostgreSQL */
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
