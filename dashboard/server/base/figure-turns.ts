// Figures of nights, months and spans take the thread of the rules for a second or more. One set of them is made at a time, in
// the order in which they were requested, and after each as much time is left to whatever else is to be done, alarms above all.

import { setTimeout } from 'node:timers/promises';
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

/** A store that is slow for once must not make everybody wait as long again. */
const LONGEST_REST_MILLIS = 2000;

export function figureTurns(rest: (millis: number) => Promise<unknown> = setTimeout): TakeTurn {
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
    let startedAt = 0;
    const own = last.then(() => {
      startedAt = performance.now();
      return work();
    });
    last = own.catch(() => {}).then(() => rest(Math.min(performance.now() - startedAt, LONGEST_REST_MILLIS)));
    try {
      return await own;
    } finally {
      waiting.splice(waiting.indexOf(asking), 1);
    }
  };
}
