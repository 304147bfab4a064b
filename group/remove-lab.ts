// A lab that left the group: everything that it reported is deleted. Series on another server are that server's.

import type { ClientBase } from 'pg';
import { inTransaction } from './transaction.ts';

const TABLES = [
  'lab',
  'alarm_change',
  'lab_minute',
  'lab_day',
  'lab_record',
  'lab_figures',
  'refused_message',
] as const;

/** False when nothing was stored of that site. */
export const removeLab = (client: ClientBase, site: string): Promise<boolean> =>
  inTransaction(client, async () => {
    let removed = 0;
    for (const table of TABLES) {
      const { rowCount } = await client.query(`DELETE FROM ${table} WHERE site = $1`, [site]);
      removed += rowCount ?? 0;
    }
    // A lab whose link is still on is offered nothing more.
    await client.query(
      `UPDATE offer_site SET state = 'taken-back', answered_at = NULL, answered_by = NULL,
         revision = nextval('offer_revision') WHERE site = $1`,
      [site],
    );
    return removed > 0;
  });
