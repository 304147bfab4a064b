// What labs sent, on its way into PostgreSQL: as many messages as wait share a transaction, and each is acknowledged
// to the broker only when its transaction is on disk. One that PostgreSQL refuses for what it holds is kept as refused,
// so that it holds up nobody.

import type { ClientBase } from 'pg';
import { errorCode, reasonOf } from '../wax/problem-error.ts';
import { decode, type GroupMessage } from './decode.ts';
import { type RefusedMessage, writeMessages, writeRefused } from './write.ts';

export interface Arrived {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly acknowledge: () => void;
}

interface DecodedArrival extends Pick<Arrived, 'topic' | 'payload'> {
  readonly message: GroupMessage;
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
/** Also of payloads: few messages can be many bytes. */
const MOST_WAITING_BYTES = 32 * 1024 * 1024;
/**
 * Classes of SQLSTATE that lie in the data: data exception, integrity constraint (ISO/IEC 9075), and program limit
 * exceeded (PostgreSQL, Appendix A), such as a text too long for an index.
 */
const DATA_ERROR = /^(22|23|54)/;

/** A RangeError: what JavaScript cannot write as one text. */
const liesInData = (error: unknown): boolean =>
  error instanceof RangeError || DATA_ERROR.test(String(errorCode(error) ?? ''));

/** `onFailed`: the connection to PostgreSQL is of no use any more; what waits is not acknowledged. */
export function openIntake(client: ClientBase, onFailed: (error: unknown) => void): ReportIntake {
  let waiting: Arrived[] = [];
  let waitingBytes = 0;
  let writing: Promise<void> | null = null;
  let isFailed = false;

  const writeAll = async (): Promise<void> => {
    while (waiting.length > 0 && !isFailed) {
      const together = waiting.splice(0, MOST_TOGETHER);
      for (const { payload } of together) waitingBytes -= payload.length;
      try {
        await write(together);
        for (const { acknowledge } of together) acknowledge();
      } catch (error) {
        isFailed = true;
        waiting = [];
        waitingBytes = 0;
        onFailed(error);
      }
    }
  };

  const write = async (arrived: readonly Arrived[]): Promise<void> => {
    const messages: DecodedArrival[] = [];
    const refused: RefusedMessage[] = [];
    for (const { topic, payload } of arrived) {
      const decoded = decode(topic, payload);
      if (decoded.ok) messages.push({ message: decoded.message, topic, payload });
      else refused.push({ topic, reason: decoded.reason, detail: '', sample: payload });
    }
    await writeDecoded(messages);
    await writeRefused(client, refused);
  };

  /** Halves what PostgreSQL refuses until the one message is found. */
  const writeDecoded = async (decoded: readonly DecodedArrival[]): Promise<void> => {
    if (decoded.length === 0) return;
    try {
      await writeMessages(
        client,
        decoded.map(({ message }) => message),
      );
    } catch (error) {
      if (!liesInData(error)) throw error;
      const [first] = decoded;
      if (decoded.length === 1 && first !== undefined) {
        const { topic, payload } = first;
        await writeRefused(client, [{ topic, reason: 'data', detail: reasonOf(error), sample: payload }]);
        return;
      }
      const half = Math.ceil(decoded.length / 2);
      await writeDecoded(decoded.slice(0, half));
      await writeDecoded(decoded.slice(half));
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
      waitingBytes += message.payload.length;
      follow();
    },
    whenFree: () =>
      waiting.length < MOST_WAITING && waitingBytes < MOST_WAITING_BYTES ? null : (writing ?? null),
    settled,
  };
}
