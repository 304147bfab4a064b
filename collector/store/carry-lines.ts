// Lines to a server that may refuse some of them: where it takes other lines, a refused request is halved until the line
// that it refuses stands alone.

import type { WriteOutcome } from './influx-server.ts';

export interface RefusedLine<T> {
  readonly line: T;
  readonly reason: string;
}

/**
 * Returns the lines that were refused; the others are taken.
 * @param check a write that no server has a reason to refuse
 * @throws what `write` and `check` throw: some of the lines may have been taken
 */
export async function carryLines<T>(
  lines: readonly T[],
  write: (lines: readonly T[]) => Promise<WriteOutcome>,
  check: () => Promise<void>,
): Promise<readonly RefusedLine<T>[]> {
  const outcome = await write(lines);
  if (outcome.kind === 'taken') return [];
  // A server that refuses everything just now must not cost a single line.
  await check();
  const [only] = lines;
  if (only === undefined) return [];
  if (lines.length === 1) {
    // The server may have recovered between the refusal and the check.
    const again = await write(lines);
    return again.kind === 'taken' ? [] : [{ line: only, reason: again.reason }];
  }
  const middle = lines.length >> 1;
  const first = await carryLines(lines.slice(0, middle), write, check);
  return [...first, ...(await carryLines(lines.slice(middle), write, check))];
}
