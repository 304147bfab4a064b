// The clock of the machine that this runs on, and the time in which it did not run. A jump of the clock is not blamed on
// gateways, and what lay unwatched is named when the watch goes on.

import { type Entry, TICK_MILLIS, type TickEntry } from '../../../../lab/entry.ts';
import { epochMillis, MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import type { Holding } from '../../rule/condition-timer.ts';
import { announcePast, applyJudgements, SITE, stepAlarm } from '../findings/alarms.ts';
import { type Draft, editClock, editSiteConditions, siteConditions } from '../state/draft.ts';
import { judge, type Moment } from '../findings/evaluate.ts';
import type { ClockMemory } from '../state/memory.ts';
import { whatToLookAt } from './out-of-sight.ts';

type Ticked = NonNullable<ClockMemory['ticked']>;

/** Clocks that are set by the network move by less. Common practice. */
const JUMP_SECONDS = 30;
/** So long a jump is shown, and as long as gateways differ by it. */
const SHOWN_MILLIS = MILLIS_PER_HOUR;
const SAME_MINUTES = 2;

/** A program that was started anew saw nothing for longer: gateways get their time to come back to it. */
const DOWN_MILLIS = MILLIS_PER_MINUTE;
/** So long unwatched is worth a word. Common practice. */
const UNWATCHED_MILLIS = 5 * MILLIS_PER_MINUTE;

export interface TickFinding {
  /** The machine's clock jumped since the last tick. */
  readonly hasJumped: boolean;
  /** The last tick of the process before, where none came for some time; null: the watch went on. */
  readonly downSince: number | null;
}
export const NO_FINDING: TickFinding = { hasJumped: false, downSince: null };

const readTick = ({ process, receivedAt }: TickEntry): Ticked | null =>
  process === undefined
    ? null
    : {
        process: process.startedAt / 1000,
        aheadSeconds: (receivedAt - process.runningMillis) / 1000,
        at: receivedAt,
      };

const asTick = ({ process, aheadSeconds, at = 0 }: Ticked): TickEntry => ({
  kind: 'tick',
  receivedAt: epochMillis(at),
  process: { startedAt: epochMillis(process * 1000), runningMillis: Math.round(at - aheadSeconds * 1000) },
});

/**
 * For the record: the ticks among them with the one before, where no time passed between the two. Of a clock that was set
 * back there is nothing that a replay could follow.
 */
export function withTicksBefore(entries: readonly Entry[], clock: ClockMemory | undefined): readonly Entry[] {
  let before = clock?.ticked ?? null;
  return entries.map((entry) => {
    const ticked = entry.kind === 'tick' ? readTick(entry) : null;
    if (ticked === null) return entry;
    const last = before;
    before = ticked;
    if (last?.at === undefined) return entry;
    const hasStood =
      last.process === ticked.process
        ? ticked.aheadSeconds - last.aheadSeconds > JUMP_SECONDS
        : entry.receivedAt - last.at > 2 * TICK_MILLIS;
    return hasStood ? { ...entry, after: asTick(last) } : entry;
  });
}

/** Takes in how the machine's clock stands to one that nobody sets, and whether the program was started anew. */
export function takeTick(draft: Draft, tick: TickEntry): TickFinding {
  const ticked = readTick(tick);
  if (ticked === null) return NO_FINDING;
  const { receivedAt } = tick;
  const clock = editClock(draft);
  const before = clock.ticked;
  clock.ticked = ticked;
  if (before?.process !== ticked.process) {
    const last = before?.at ?? receivedAt;
    // Readings may have come first and have begun the time of the gateways already.
    const isDown = receivedAt - last > DOWN_MILLIS && clock.awakeAt <= last;
    return { hasJumped: false, downSince: isDown ? last : null };
  }
  const jumped = ticked.aheadSeconds - before.aheadSeconds;
  if (Math.abs(jumped) <= JUMP_SECONDS) return NO_FINDING;
  clock.jump = { at: receivedAt, minutes: jumped / 60 };
  return { hasJumped: true, downSince: null };
}

/** Raises the jump once for the lab, and names the newest one; gateways whose clocks seem wrong by it hide behind it. */
export function evaluateOwnClock(draft: Draft, moment: Moment): void {
  const { jump } = draft.parts.clock ?? {};
  const planned = draft.plan.gatewayRules.find(({ rule }) => rule.kind === 'gateway-clock');
  if (planned === undefined) return;
  if (jump === undefined && siteConditions(draft.parts, SITE)?.['gateway-clock'] === undefined) return;
  const evaluation: Holding | 'gone' =
    jump !== undefined && (moment.at - jump.at < SHOWN_MILLIS || isSeenAtGateways(draft, jump.minutes))
      ? {
          evidence: {
            whose: 'collector',
            how: jump.minutes > 0 ? 'collector-ahead' : 'collector-behind',
            lag_minutes: Math.abs(jump.minutes),
          },
        }
      : 'gone';
  if (evaluation === 'gone') delete editClock(draft).jump;
  const judgement = judge(editSiteConditions(draft, SITE), planned, SITE, evaluation, moment, () => null);
  if (judgement !== null) applyJudgements(draft, [judgement]);
  else if (jump?.at === moment.at && evaluation !== 'gone')
    stepAlarm(draft, planned.rule, SITE, { type: 'updates', at: moment.at, evidence: evaluation.evidence });
}

const isSeenAtGateways = (draft: Draft, minutes: number): boolean =>
  [...draft.plan.gateways.values()].some(({ key }) => {
    const lag = draft.parts[key]?.lagMillis ?? null;
    return lag !== null && Math.abs(lag / MILLIS_PER_MINUTE - minutes) <= SAME_MINUTES;
  });

/** Nobody saw what heaters that were on, and places with patterns, went through since; as it was before anything came. */
export function noteSleep(draft: Draft, since: number): void {
  if (draft.receivedAt - since < UNWATCHED_MILLIS) return;
  const look = whatToLookAt(draft.parts, [...draft.plan.stations.values()]);
  editClock(draft).unwatched ??= { since, until: draft.receivedAt, look };
}

/** Readings that came before the tick could not distinguish a stop from a clock that was set forward. */
export function announceSleep(draft: Draft, hasJumped: boolean): void {
  const clock = editClock(draft);
  const { unwatched } = clock;
  if (unwatched === undefined) return;
  delete clock.unwatched;
  const planned = draft.plan.gatewayRules.find(({ rule }) => rule.kind === 'gateway-lost');
  if (planned === undefined || hasJumped || unwatched.look.look === 'none') return;
  announcePast(draft, planned.rule, SITE, {
    evidence: { how: 'asleep', when: 'over', ...unwatched.look },
    since: epochMillis(unwatched.since),
    at: epochMillis(unwatched.until),
  });
}
