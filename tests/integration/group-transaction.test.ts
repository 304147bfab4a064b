// What the process of a group queries on a connection on which the transaction of others has just failed.

import pg from 'pg';
import { expect, it, onTestFinished } from 'vitest';
import { besideTransactions } from '../../group/transaction.ts';
import { startPostgres } from './postgres.ts';

it('a query beside a transaction that has failed is repeated until that is undone, and no other error is', async () => {
  const postgres = await startPostgres();
  onTestFinished(() => postgres.dispose());
  const client = new pg.Client(postgres.url);
  await client.connect();
  onTestFinished(() => client.end());
  await client.query('BEGIN');
  const failing = client.query('SELECT 1 / 0').catch(() => {});
  let times = 0;
  const beside = besideTransactions(() => {
    times += 1;
    return client.query('SELECT 7 AS answer');
  });
  await failing;
  await client.query('ROLLBACK');
  expect((await beside).rows).toEqual([{ answer: 7 }]);
  expect(times).toBeGreaterThan(1);
  await expect(besideTransactions(() => client.query('SELECT 1 / 0'))).rejects.toThrow(/division by zero/);
});
