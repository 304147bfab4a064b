// What labs sent, on its way into PostgreSQL: as many messages as wait share a transaction, and each is acknowledged
// to the broker only when its transaction is on disk. One that PostgreSQL refuses for what it holds is kept as refused,
// so that it holds up nobody.

import type { ClientBase } from 'pg';
import { reasonOf } from '../wax/problem-error.ts';
import { decode, type GroupMessage } from './decode.ts';
import { writeMessages, writeRefused } from './write.ts';

export interface Arrived {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly acknowledge: () => void;
}

export interface ReportIntake {
  readonly take: (message: Arrived) => void;
  /** Null while there is room; else resolves when there is again. */
  readonly whenFree: () => Promise<void> | null;
  /** Nothing waits any more, and nothing is being written. */
  readonly settled: () => Promise<void>;
}

/** Few enough for one quick transaction, many enough that its cost is shared. */
const MOST_TOGETHER = 500;
const MOST_WAITING = 2000;
/** Classes of SQLSTATE that lie in the data: data exception, integrity constraint (ISO/IEC 9075). */
const DATA_ERROR = /^(22|23)/;

const liesInData = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && DATA_ERROR.test(String(error.code));

/** `onFailed`: the connection to PostgreSQL is of no use any more; what waits is not acknowledged. */
export function openIntake(client: ClientBase, onFailed: (error: unknown) => void): ReportIntake {
  let waiting: Arrived[] = [];
  let writing: Promise<void> | null = null;
  let isFailed = false;

  const writeAll = async (): Promise<void> => {
    while (waiting.length > 0 && !isFailed) {
      const together = waiting.splice(0, MOST_TOGETHER);
      try {
        await write(together);
        for (const { acknowledge } of together) acknowledge();
      } catch (error) {
        isFailed = true;
        waiting = [];
        onFailed(error);
      }
    }
  };

  const write = async (arrived: readonly Arrived[]): Promise<void> => {
    const messages: GroupMessage[] = [];
    for (const { topic, payload } of arrived) {
      const decoded = decode(topic, payload);
      if (decoded.ok) messages.push(decoded.message);
      else await writeRefused(client, { topic, reason: decoded.reason, sample: payload });
    }
    try {
      await writeMessages(client, messages);
    } catch (error) {
      if (!liesInData(error)) throw error;
      const [first] = arrived;
      if (arrived.length === 1 && first !== undefined) {
        await writeRefused(client, { topic: first.topic, reason: reasonOf(error), sample: first.payload });
        return;
      }
      const half = Math.ceil(arrived.length / 2);
      await write(arrived.slice(0, half));
      await write(arrived.slice(half));
    }
  };

  const follow = (): void => {
    writing ??= writeAll().finally(() => {
      writing = null;
      if (waiting.length > 0 && !isFailed) follow();
    });
  };
  const settled = async (): Promise<void> => {
    while (writing !== null) await writing;
  };
  return {
    take: (message) => {
      if (isFailed) return;
      waiting.push(message);
      follow();
    },
    whenFree: () => (waiting.length < MOST_WAITING ? null : (writing ?? null)),
    settled,
  };
}
