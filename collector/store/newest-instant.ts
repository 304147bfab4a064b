// Up to when the embedded store has readings.

import type { Connection } from '../../lab/database/database.ts';
import { type EpochMillis, epochMillis } from '../../wax/units.ts';

/** Just after the newest reading, or after the span in which it was sealed; null in an empty store. */
export function endOfReadings(connection: Connection): EpochMillis | null {
  const newest = connection.prepare<[], number | null>('SELECT max(at) + 1 FROM reading').pluck().get();
  const sealed = connection.prepare<[], number | null>('SELECT max(end) FROM reading_pack').pluck().get();
  const end = Math.max(newest ?? 0, sealed ?? 0);
  return end === 0 ? null : epochMillis(end);
}
