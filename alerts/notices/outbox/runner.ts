// Sends what the outbox holds: one row at a time for each address, several addresses at once; writes down that a
// try begins before it does. Time and senders are given.

import type { EpochMillis } from '../../../wax/units.ts';
import { channelHealth, type ChannelHealth, type ReportChannel } from './channel-health.ts';
import type { Outbox } from './outbox.ts';
import type { Channel, OutboxRow, SendOutcome } from './outbox-row.ts';
import { nextTryAt } from './retry.ts';
import { errorAnswer } from './send-answer.ts';

export type Send = (row: OutboxRow) => Promise<SendOutcome>;

export interface RunnerParts {
  readonly outbox: Outbox;
  readonly senders: Readonly<Record<Channel, Send>>;
  readonly now: () => EpochMillis;
  /** Runs `work` after so long; answers a function that cancels it. */
  readonly after: (millis: number, work: () => void) => () => void;
  /** A channel failed again and again, or works again. */
  readonly onChannel: ReportChannel;
  /** An address no longer exists. */
  readonly onGone: (row: OutboxRow) => void;
  /** A try is over and written down, or its time ran out. */
  readonly onTried: (row: OutboxRow, isDelivered: boolean) => void;
}

export interface Runner {
  /** Called when rows were added. */
  readonly wake: () => void;
  /** Sends everything that is due now; resolves when nothing is. */
  readonly runDue: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const LONGEST_SLEEP_MILLIS = 60_000;
/** When nothing could be written down; a full disk is looked at again after so long. */
const TROUBLE_MILLIS = 5000;

/** One try of one row, written down; true when it was delivered. */
async function tryOnce(row: OutboxRow, parts: RunnerParts, health: ChannelHealth): Promise<boolean> {
  const { outbox } = parts;
  const outcome = await parts.senders[row.channel](row).catch(
    (error: unknown): SendOutcome => ({
      kind: 'retry',
      answer: errorAnswer(error),
      retryAfterMillis: null,
    }),
  );
  const at = parts.now();
  const { answer } = outcome;
  switch (outcome.kind) {
    case 'delivered':
      outbox.end(row.number, 'delivered', at, answer);
      health.worked(row.channel, answer);
      return true;
    case 'retry':
      outbox.retry(row.number, nextTryAt(row, row.attempts + 1, outcome.retryAfterMillis, at), answer);
      health.failed(row.channel, answer);
      return false;
    case 'gone':
      outbox.end(row.number, 'failed', at, answer);
      outbox.withdrawAll(row.channel, row.address, at, answer);
      parts.onGone(row);
      return false;
    case 'refused':
      outbox.end(row.number, 'failed', at, answer);
      health.refused(row.channel, answer);
      return false;
  }
}

export function outboxRunner(parts: RunnerParts): Runner {
  const { outbox, now } = parts;
  const health = channelHealth(parts.onChannel);
  const inFlight = new Map<number, Promise<void>>();
  let running: Promise<void> | null = null;
  let isWoken = false;
  let stopped = false;
  let rouse = (): void => {};
  let cancelTimer: (() => void) | null = null;
  outbox.recover();

  /** Starts a try for every address whose oldest row is due; one wait for the disk for all of them. */
  const launch = (): void => {
    const at = now();
    const due: OutboxRow[] = [];
    for (const row of outbox.heads()) {
      if (row.state !== 'waiting' || inFlight.has(row.number)) continue;
      if (row.expiresAt <= at) {
        outbox.end(row.number, 'expired', at, row.answer);
        parts.onTried(row, false);
        isWoken = true;
      } else if (row.nextAt <= at) due.push(row);
    }
    if (due.length > 0) outbox.begin(due.map(({ number }) => number));
    for (const row of due)
      inFlight.set(
        row.number,
        tryOnce(row, parts, health)
          .then((isDelivered) => parts.onTried(row, isDelivered))
          .finally(() => inFlight.delete(row.number)),
      );
  };

  const sleep = (): void => {
    const next = Math.min(...outbox.heads().map(({ nextAt, expiresAt }) => Math.min(nextAt, expiresAt)));
    cancelTimer?.();
    cancelTimer = Number.isFinite(next)
      ? parts.after(Math.min(Math.max(next - now(), 0), LONGEST_SLEEP_MILLIS), attend)
      : null;
  };
  /** A disk that refuses must not end the process. A try that could not be written down is made again, as a repeat. */
  const attend = (): void => {
    runDue().catch(() => {
      cancelTimer?.();
      cancelTimer = stopped ? null : parts.after(TROUBLE_MILLIS, attendAfterTrouble);
    });
  };
  const attendAfterTrouble = (): void => {
    try {
      if (inFlight.size === 0) outbox.recover();
    } catch {
      // The run below meets the same refusal and is tried again.
    }
    attend();
  };

  const runAll = async (): Promise<void> => {
    while (!stopped) {
      isWoken = false;
      launch();
      if (isWoken) continue;
      if (inFlight.size === 0) break;
      // One slow receiver must not hold up the others.
      const woken = new Promise<void>((resolve) => {
        rouse = resolve;
      });
      await Promise.race([woken, ...inFlight.values()]);
    }
    await Promise.all(inFlight.values());
    if (!stopped) sleep();
  };
  const runDue = async (): Promise<void> => {
    isWoken = true;
    rouse();
    // Whoever joins a run that has looked at the rows for the last time needs another.
    while (isWoken && !stopped) {
      running ??= runAll().finally(() => {
        running = null;
      });
      await running;
    }
  };
  return {
    wake: attend,
    runDue,
    stop: async () => {
      stopped = true;
      rouse();
      cancelTimer?.();
      await running?.catch(() => {});
    },
  };
}
