// Sends what the outbox holds: one row at a time for each address, several addresses at once; writes down that a
// try begins before it does. Time and senders are given; whether a channel works is told when it changes.

import type { EpochMillis } from '../../../wax/units.ts';
import { FAILURES_TOLD } from './heard.ts';
import type { Outbox } from './outbox.ts';
import type { Channel, OutboxRow, SendOutcome } from './outbox-row.ts';
import { nextTryAt } from './retry.ts';

export type Send = (row: OutboxRow) => Promise<SendOutcome>;

export interface RunnerParts {
  readonly outbox: Outbox;
  readonly senders: Readonly<Record<Channel, Send>>;
  readonly now: () => EpochMillis;
  /** Runs `work` after so long; answers a function that calls it off. */
  readonly after: (millis: number, work: () => void) => () => void;
  /** A channel failed again and again, or works again. */
  readonly onChannel: (channel: Channel, ok: boolean, detail: string) => void;
  /** An address is no more. */
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

export function outboxRunner(parts: RunnerParts): Runner {
  const { outbox, now } = parts;
  const inFlight = new Map<number, Promise<void>>();
  const failures = new Map<Channel, number>();
  let running: Promise<void> | null = null;
  let isWoken = false;
  let stopped = false;
  let rouse = (): void => {};
  let callOff: (() => void) | null = null;
  outbox.recover();

  const judge = (channel: Channel, ok: boolean, detail: string, atOnce: boolean): void => {
    const before = failures.get(channel) ?? 0;
    const count = ok ? 0 : atOnce ? Math.max(before + 1, FAILURES_TOLD) : before + 1;
    failures.set(channel, count);
    if (ok && before >= FAILURES_TOLD) parts.onChannel(channel, true, detail);
    if (!ok && before < FAILURES_TOLD && count >= FAILURES_TOLD) parts.onChannel(channel, false, detail);
  };

  /** True when it got through. */
  const tryOnce = async (row: OutboxRow): Promise<boolean> => {
    const outcome = await parts.senders[row.channel](row).catch(
      (error: unknown): SendOutcome => ({
        kind: 'again',
        detail: error instanceof Error ? error.message : String(error),
        retryAfterMillis: null,
      }),
    );
    const at = now();
    switch (outcome.kind) {
      case 'delivered':
        outbox.end(row.number, 'delivered', at, outcome.detail);
        judge(row.channel, true, outcome.detail, false);
        return true;
      case 'again':
        outbox.again(
          row.number,
          nextTryAt(row, row.attempts + 1, outcome.retryAfterMillis, at),
          outcome.detail,
        );
        judge(row.channel, false, outcome.detail, false);
        return false;
      case 'gone':
        outbox.end(row.number, 'failed', at, outcome.detail);
        outbox.withdrawAll(row.channel, row.address, at, outcome.detail);
        parts.onGone(row);
        return false;
      case 'refused':
        outbox.end(row.number, 'failed', at, outcome.detail);
        // What is refused once is refused every time: it is said at once.
        judge(row.channel, false, outcome.detail, true);
        return false;
    }
  };

  /** Starts a try for every address whose oldest row is due; one wait for the disk for all of them. */
  const launch = (): void => {
    const at = now();
    const due: OutboxRow[] = [];
    for (const row of outbox.heads()) {
      if (row.state !== 'waiting' || inFlight.has(row.number)) continue;
      if (row.expiresAt <= at) {
        outbox.end(row.number, 'expired', at, row.detail);
        parts.onTried(row, false);
        isWoken = true;
      } else if (row.nextAt <= at) due.push(row);
    }
    if (due.length > 0) outbox.begin(due.map(({ number }) => number));
    for (const row of due)
      inFlight.set(
        row.number,
        tryOnce(row)
          .then((isDelivered) => parts.onTried(row, isDelivered))
          .finally(() => inFlight.delete(row.number)),
      );
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
    if (stopped) return;
    const next = Math.min(...outbox.heads().map(({ nextAt, expiresAt }) => Math.min(nextAt, expiresAt)));
    callOff?.();
    callOff = Number.isFinite(next)
      ? parts.after(Math.min(Math.max(next - now(), 0), LONGEST_SLEEP_MILLIS), () => void runDue())
      : null;
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
    wake: () => void runDue(),
    runDue,
    stop: async () => {
      stopped = true;
      rouse();
      callOff?.();
      await running;
    },
  };
}
