// Which rows go now, and which of them as one message: urgent ones that are due in the same instant to the same phone
// or mailbox, and those that were gathered in one lane. Machines get each row by itself.

import type { EpochMillis } from '../../../wax/units.ts';
import { isBundle, isCall, tagOf, togetherLane, URGENT_LANE } from './lane.ts';
import type { Outbox } from './outbox.ts';
import type { OutboxMessage, OutboxRow } from './outbox-row.ts';

type Rows = OutboxMessage['rows'];

export interface DueMessages {
  readonly messages: readonly OutboxMessage[];
  /** Their time ran out before they were delivered. */
  readonly expired: readonly OutboxRow[];
}

/** Row numbers in `inFlight` are being sent. */
export function dueMessages(
  outbox: Pick<Outbox, 'heads' | 'ofLane' | 'before'>,
  inFlight: ReadonlySet<number>,
  at: EpochMillis,
): DueMessages {
  const waiting = outbox.heads().filter(({ state, number }) => state === 'waiting' && !inFlight.has(number));
  const isDue = (row: OutboxRow): boolean =>
    row.state === 'waiting' && row.nextAt <= at && row.expiresAt > at;
  const urgent = new Map<string, Rows>();
  const sets: Rows[] = [];
  for (const head of waiting.filter(isDue)) {
    if (head.person === null) sets.push([head]);
    else if (head.lane === URGENT_LANE) {
      const key = `${head.channel} ${head.address}`;
      const rows = urgent.get(key);
      urgent.set(key, rows === undefined ? [head] : [...rows, head]);
    } else if (isBundle(head.lane)) {
      const others = outbox.ofLane(head).filter((row) => row.number !== head.number && isDue(row));
      sets.push([head, ...others]);
    } else sets.push([head]);
  }
  return {
    messages: [...urgent.values(), ...sets].map((rows) => messageOf(rows, outbox)),
    expired: waiting.filter(({ expiresAt }) => expiresAt <= at),
  };
}

function messageOf(given: Rows, outbox: Pick<Outbox, 'ofLane' | 'before'>): OutboxMessage {
  const [first] = given;
  const earlier = first.person === null || first.body.alarm === null ? [] : given.flatMap(outbox.before);
  const lane = laneOf(given, earlier);
  const rows = given.map((row) => ({ ...row, lane })) as unknown as Rows;
  const tag = tagOf({ lane, topic: first.topic });
  const named = new Set(rows.map(({ topic }) => topic));
  const rest = isBundle(lane)
    ? outbox
        .ofLane({ ...first, lane })
        .filter(({ topic, state }) => !named.has(topic) && (state === 'delivered' || state === 'sending'))
    : [];
  return {
    rows,
    tag,
    replaces: [...new Set(earlier.map(tagOf))].filter((shown) => shown !== tag),
    // The newest row of an alarm holds its state.
    rest: [...new Map(rest.map((row) => [row.topic, row])).values()].filter(({ kind }) => isCall(kind)),
  };
}

/** Alarms that were shown together before are shown together again. */
function laneOf(rows: Rows, earlier: readonly OutboxRow[]): string {
  const [first] = rows;
  if (first.person === null || first.lane !== URGENT_LANE) return first.lane;
  const shown = earlier.find(({ lane }) => isBundle(lane))?.lane;
  if (shown !== undefined) return shown;
  return rows.length === 1 ? URGENT_LANE : togetherLane(first.number);
}
