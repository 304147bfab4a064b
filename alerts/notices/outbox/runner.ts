// Sends what the outbox holds: each lane of an address in order, lanes and addresses at once, urgent notices without
// waiting for anything; writes down that a try begins before it does. Time and senders are given.

import type { EpochMillis } from '../../../wax/units.ts';
import { channelHealth, type ChannelHealth, type ReportChannel } from './channel-health.ts';
import { dueMessages } from './due-messages.ts';
import type { Outbox } from './outbox.ts';
import type { Channel, OutboxMessage, OutboxRow, SendOutcome } from './outbox-row.ts';
import { isUrgentLane } from './lane.ts';
import { nextTryAt } from './retry.ts';
import { errorAnswer } from './send-answer.ts';

export type Send = (message: OutboxMessage) => Promise<SendOutcome>;

export interface RunnerParts {
  readonly outbox: Outbox;
  readonly senders: Readonly<Record<Channel, Send>>;
  readonly now: () => EpochMillis;
  /** Runs `work` after a delay; returns a function that cancels it. */
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
  readonly health: Pick<ChannelHealth, 'keep' | 'isFailing'>;
  /** Sends everything that is due now; resolves when nothing is. */
  readonly runDue: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const LONGEST_SLEEP_MILLIS = 60_000;
/**
 * Messages that are not urgent and on their way at the same time, for each channel: so many that a slow receiver holds
 * up nobody for long, so few that an urgent one finds the line and the processor free. Measured by the alarm bench.
 */
const MOST_AT_ONCE = 6;
/**
 * While an urgent message is on its way nothing else of its channel is begun, so that it has the processor for itself;
 * for no longer than this, because one phone that does not answer must not hold up all others.
 */
const MOST_HELD_MILLIS = 2000;
/** After nothing could be written: a full disk is tried again this much later. */
const TROUBLE_MILLIS = 5000;
/** A stop waits this long for receivers; what they have not answered by then is sent again after the next start. */
const GOODBYE_MILLIS = 2000;

const isUrgentMessage = ({ rows: [{ lane }] }: OutboxMessage): boolean => isUrgentLane(lane);

const outcomeOf = (message: OutboxMessage, { senders }: RunnerParts): Promise<SendOutcome> =>
  senders[message.rows[0].channel](message).catch(
    (error: unknown): SendOutcome => ({ kind: 'retry', answer: errorAnswer(error), retryAfterMillis: null }),
  );

/** Writes down with each row what came of a try; true when it was delivered. */
function writeOutcome(
  message: OutboxMessage,
  outcome: SendOutcome,
  parts: RunnerParts,
  health: ChannelHealth,
): boolean {
  const { outbox } = parts;
  const [first] = message.rows;
  const { channel, address } = first;
  const at = parts.now();
  const { answer } = outcome;
  const numbers = message.rows.map(({ number }) => number);
  switch (outcome.kind) {
    case 'delivered':
      outbox.end(numbers, 'delivered', at, answer);
      health.worked(first, answer);
      return true;
    case 'retry':
      // Somebody waits in front of the screen for the outcome of a test; a phone may be out of reach for a while.
      if (first.kind === 'test' && channel !== 'push') outbox.end(numbers, 'failed', at, answer);
      else outbox.retry(numbers, nextTryAt(first, first.attempts + 1, outcome.retryAfterMillis, at), answer);
      health.failed(first, answer);
      return false;
    case 'gone':
      outbox.end(numbers, 'failed', at, answer);
      outbox.withdrawAll(channel, address, at, answer);
      parts.onGone(first);
      return false;
    case 'refused':
      outbox.end(numbers, 'failed', at, answer);
      health.refused(first, answer);
      return false;
  }
}

/** Urgent ones first and all of them; of the others as many as have room where no urgent one is on its way. */
function startable(
  messages: readonly OutboxMessage[],
  restInFlight: ReadonlyMap<Channel, number>,
  held: ReadonlySet<Channel>,
): readonly OutboxMessage[] {
  const room = new Map<Channel, number>();
  const urgent = messages.filter(isUrgentMessage);
  const urgentNow = new Set(urgent.map(({ rows: [{ channel }] }) => channel));
  const rest = messages.filter((message) => {
    if (isUrgentMessage(message)) return false;
    const [{ channel }] = message.rows;
    if (held.has(channel) || urgentNow.has(channel)) return false;
    const left = room.get(channel) ?? MOST_AT_ONCE - (restInFlight.get(channel) ?? 0);
    room.set(channel, left - 1);
    return left > 0;
  });
  return [...urgent, ...rest];
}

// biome-ignore lint/complexity/noExcessiveLinesPerFunction: one loop, whose steps share what is under way
export function outboxRunner(parts: RunnerParts): Runner {
  const { outbox, now } = parts;
  const health = channelHealth(parts.onChannel);
  const inFlight = new Set<number>();
  const restInFlight = new Map<Channel, number>();
  /** Urgent messages on their way, with until when they hold up the rest of their channel. */
  const urgentInFlight = new Map<OutboxMessage, EpochMillis>();
  const tries = new Set<Promise<void>>();
  let running: Promise<void> | null = null;
  let isWoken = false;
  let stopped = false;
  /** Nothing can be written down any more. */
  let isClosed = false;
  let rouse = (): void => {};
  let cancelTimer: (() => void) | null = null;
  outbox.recover();

  const countInFlight = (message: OutboxMessage, change: 1 | -1): void => {
    const [{ channel }] = message.rows;
    if (!isUrgentMessage(message)) restInFlight.set(channel, (restInFlight.get(channel) ?? 0) + change);
    else if (change === 1) urgentInFlight.set(message, (now() + MOST_HELD_MILLIS) as EpochMillis);
    else urgentInFlight.delete(message);
  };
  const heldChannels = (at: EpochMillis): ReadonlySet<Channel> =>
    new Set(
      [...urgentInFlight].flatMap(
        ([
          {
            rows: [{ channel }],
          },
          until,
        ]) => (at < until ? [channel] : []),
      ),
    );
  const start = (message: OutboxMessage): void => {
    for (const { number } of message.rows) inFlight.add(number);
    countInFlight(message, 1);
    const attempt = outcomeOf(message, parts)
      .then((outcome) => {
        if (isClosed) return;
        const isDelivered = writeOutcome(message, outcome, parts, health);
        for (const row of message.rows) parts.onTried(row, isDelivered);
      })
      .finally(() => {
        for (const { number } of message.rows) inFlight.delete(number);
        countInFlight(message, -1);
        tries.delete(attempt);
      });
    tries.add(attempt);
  };

  /** Starts a try of every message that is due; one wait for the disk for all of them. */
  const launch = (): void => {
    const at = now();
    const { messages, expired } = dueMessages(outbox, inFlight, at);
    for (const row of expired) {
      outbox.end([row.number], 'expired', at, row.answer);
      parts.onTried(row, false);
      isWoken = true;
    }
    const chosen = startable(messages, restInFlight, heldChannels(at));
    if (chosen.length > 0) outbox.begin(chosen.flatMap(({ rows }) => rows));
    for (const message of chosen) start(message);
  };

  const sleep = (): void => {
    const times = outbox
      .heads()
      .filter(({ state }) => state === 'waiting')
      .map(({ nextAt, expiresAt }) => Math.min(nextAt, expiresAt));
    // While tries are under way, what is due waits for room, and the end of a try looks again.
    const next = Math.min(
      ...(tries.size === 0 ? times : [...times, ...urgentInFlight.values()].filter((at) => at > now())),
    );
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
      if (tries.size === 0) break;
      // What waits for its time must not wait for a slow receiver besides.
      sleep();
      const woken = new Promise<void>((resolve) => {
        rouse = resolve;
      });
      await Promise.race([woken, ...tries]);
    }
    await Promise.all(tries);
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
    health,
    runDue,
    stop: async () => {
      stopped = true;
      rouse();
      cancelTimer?.();
      let cancelGoodbye = (): void => {};
      const goodbye = new Promise<void>((resolve) => {
        cancelGoodbye = parts.after(GOODBYE_MILLIS, resolve);
      });
      await Promise.race([running?.catch(() => {}), goodbye]);
      cancelGoodbye();
      isClosed = true;
    },
  };
}
