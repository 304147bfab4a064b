// Stored bytes that are not those that were written.

import { ProblemError, reasonOf } from '../../../wax/problem-error.ts';

/** Thrown where stored readings, or figures of hours, cannot be read back as they were written. */
export class DamagedReadings extends ProblemError<'readings-damaged'> {
  readonly reason: string;
  constructor(reason: string, cause?: unknown) {
    super('readings-damaged', { reason }, cause);
    this.reason = reason;
  }
}

/** What reads bytes past their end, or asks for more than there can be, is damage too. */
export function readWhole<T>(read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof RangeError) throw new DamagedReadings(reasonOf(error), error);
    throw error;
  }
}
