// Instants cross the border as ISO 8601 text in UTC and are epoch milliseconds inside.

import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import { fieldProblem } from './problem.ts';

/** Text that passed the schema may still name no instant (a 31st of February); `pointer` is where it stood. */
export const instantOf = (text: string, pointer: string): EpochMillis => {
  const millis = Date.parse(text);
  if (Number.isNaN(millis)) throw fieldProblem(pointer, 'field-not-an-instant');
  return epochMillis(millis);
};
