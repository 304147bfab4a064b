// Figures of nights, months and spans take the thread of the rules for a second or more. One set of them is made at a time, in
// the order in which they were asked for: whatever else is to be done, alarms above all, comes in between, however many ask.

import { setImmediate } from 'node:timers/promises';
import { HttpProblem } from './problem.ts';

/** Sheets that one browser opens at once, so that nobody takes the turns of all others. */
const SHARE = 4;
const MOST_WAITING = 20;

export interface Asking {
  /** The person, token or link; null for a visitor of a demonstration, who has no share of its own. */
  readonly owner: string | null;
  /** What was saved before its figures are made waits however many do. */
  readonly mayRefuse: boolean;
}

/** @throws HttpProblem where too many of the owner, or in all, wait already */
export type TakeTurn = <T>(asking: Asking, work: () => Promise<T>) => Promise<T>;

export function figureTurns(): TakeTurn {
  const waiting: Asking[] = [];
  let last: Promise<unknown> = Promise.resolve();
  const limitReached = (owner: string | null): number | null => {
    if (waiting.length >= MOST_WAITING) return MOST_WAITING;
    if (owner === null) return null;
    return waiting.filter((each) => each.owner === owner).length >= SHARE ? SHARE : null;
  };
  return async (asking, work) => {
    const most = asking.mayRefuse ? limitReached(asking.owner) : null;
    if (most !== null)
      throw new HttpProblem('sheets-waiting', { values: { most }, headers: { 'retry-after': '10' } });
    waiting.push(asking);
    const own = last.then(() => setImmediate()).then(work);
    last = own.catch(() => {});
    try {
      return await own;
    } finally {
      waiting.splice(waiting.indexOf(asking), 1);
    }
  };
}
