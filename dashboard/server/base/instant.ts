// Instants cross the border as ISO 8601 text in UTC and are epoch milliseconds inside.

import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import { HttpProblem } from './problem.ts';

export const iso = (at: EpochMillis): string => new Date(at).toISOString();
export const isoOrNull = (at: EpochMillis | null): string | null => (at === null ? null : iso(at));

/** Text that passed the schema may still name no instant (a 31st of February); `field` is where it stood. */
export const instantOf = (text: string, field: string): EpochMillis => {
  const millis = Date.parse(text);
  if (Number.isNaN(millis))
    throw new HttpProblem(
      'wrong-request',
      `${field} must be an ISO 8601 instant such as 2030-01-31T07:00:00Z.`,
      {
        errors: [{ pointer: field, detail: 'names no instant' }],
      },
    );
  return epochMillis(millis);
};
