// What a case shows of the watch: each fault found, late or never, notified or not, by which rule; alarms at stations in good
// order; alarms that chatter. Definitions: docs/faultbench.md. Pure.

import type { TrueFault } from '../../simulators/cases/case.ts';
import { MILLIS_PER_HOUR, MILLIS_PER_MINUTE } from '../../wax/units.ts';
import type { Places } from './case-places.ts';
import { RIGHT_CAUSES } from './right-causes.ts';
import type { Beginning } from './run-case.ts';

export type Outcome = 'found' | 'late' | 'never';

export interface ScoredFault {
  readonly station: string;
  readonly fault: string;
  readonly begins: number;
  readonly harm: number | null;
  readonly ends: number;
  readonly outcome: Outcome;
  readonly isNotified: boolean;
  /** The alarm that it was found by, or found late by. */
  readonly first: Beginning | null;
  /** From the first alarm to harm; null unless found in time and harm came. */
  readonly leadMinutes: number | null;
  /** From the beginning to the first alarm. */
  readonly delayMinutes: number | null;
  /** Null unless found in time. */
  readonly isRightCause: boolean | null;
}

export interface Chatter {
  readonly subject: string;
  readonly rule: Beginning['rule'];
  /** First of the beginnings that were too many. */
  readonly from: number;
  readonly beginnings: number;
}

export interface CaseScore {
  readonly faults: readonly ScoredFault[];
  readonly nuisances: readonly Beginning[];
  /** Hours of stations in good order. */
  readonly goodStationHours: number;
  readonly chatters: readonly Chatter[];
}

export interface CaseFacts {
  readonly starts: number;
  readonly ends: number;
  readonly places: Places;
  /** Stations whose swing over 24 hours is judged. */
  readonly swingStations: ReadonlySet<string>;
  readonly truth: readonly TrueFault[];
}

const AFTER_MILLIS = MILLIS_PER_HOUR;
const AFTER_SWING_MILLIS = 24 * MILLIS_PER_HOUR;
const CHATTER_MILLIS = 10 * MILLIS_PER_MINUTE;
/** More beginnings of one alarm than this within the time above are chattering. */
const MOST_BEGINNINGS = 3;

export function scoreCase(facts: CaseFacts, beginnings: readonly Beginning[]): CaseScore {
  const inOrder = [...beginnings].sort((a, b) => a.at - b.at);
  return {
    faults: facts.truth.map((fault) => scoreFault(fault, facts, inOrder)),
    nuisances: inOrder.filter((beginning) => isNuisance(beginning, facts)),
    goodStationHours: facts.places.stations.reduce((sum, id) => sum + goodHours(id, facts), 0),
    chatters: chattersOf(inOrder),
  };
}

function scoreFault(fault: TrueFault, { places }: CaseFacts, inOrder: readonly Beginning[]): ScoredFault {
  const begins = Date.parse(fault.begins);
  const ends = Date.parse(fault.ends);
  const harm = fault.harm === null ? null : Date.parse(fault.harm);
  const mine = inOrder.filter(
    (beginning) =>
      beginning.at >= begins && beginning.at <= ends + AFTER_MILLIS && places.matches(fault, beginning),
  );
  const isInTime = (at: number): boolean => (harm === null ? at <= ends : at < harm);
  const inTime = mine.filter(({ at }) => isInTime(at));
  const first = mine[0] ?? null;
  const isFound = inTime.length > 0;
  return {
    station: fault.station,
    fault: fault.fault,
    begins,
    harm,
    ends,
    outcome: isFound ? 'found' : first === null ? 'never' : 'late',
    isNotified: inTime.some(({ notifiedAt }) => notifiedAt !== null && isInTime(notifiedAt)),
    first,
    leadMinutes: isFound && first !== null && harm !== null ? (harm - first.at) / MILLIS_PER_MINUTE : null,
    delayMinutes: first === null ? null : (first.at - begins) / MILLIS_PER_MINUTE,
    isRightCause: isFound && first !== null ? (RIGHT_CAUSES[fault.fault] ?? []).includes(first.rule) : null,
  };
}

/** For so long after a fault its alarms are no nuisance. */
const aftermath = (station: string, { swingStations }: CaseFacts): number =>
  swingStations.has(station) ? AFTER_SWING_MILLIS : AFTER_MILLIS;

function isNuisance(beginning: Beginning, facts: CaseFacts): boolean {
  if (beginning.notifiedAt === null) return false;
  return !facts.truth.some((fault) => {
    if (!facts.places.touches(fault, beginning)) return false;
    const after = Math.max(
      AFTER_MILLIS,
      ...facts.places.touched(fault).map((station) => aftermath(station, facts)),
    );
    return beginning.at >= Date.parse(fault.begins) && beginning.at <= Date.parse(fault.ends) + after;
  });
}

function goodHours(station: string, facts: CaseFacts): number {
  const { starts, ends, truth, places } = facts;
  const spans = truth
    .filter((fault) => places.touched(fault).includes(station))
    .map((fault) => [Date.parse(fault.begins), Date.parse(fault.ends) + aftermath(station, facts)] as const)
    .sort(([first], [second]) => first - second);
  let good = 0;
  let from = starts;
  for (const [begins, over] of spans) {
    good += Math.max(0, Math.min(begins, ends) - from);
    from = Math.max(from, over);
  }
  return (good + Math.max(0, ends - from)) / MILLIS_PER_HOUR;
}

function chattersOf(inOrder: readonly Beginning[]): readonly Chatter[] {
  const byAlarm = new Map<string, Beginning[]>();
  for (const beginning of inOrder) {
    const key = `${beginning.subject} ${beginning.rule}`;
    byAlarm.set(key, [...(byAlarm.get(key) ?? []), beginning]);
  }
  return [...byAlarm.values()].flatMap((all): readonly Chatter[] => {
    const tooSoon = all.filter((beginning, index) => {
      const last = all[index + MOST_BEGINNINGS];
      return last !== undefined && last.at - beginning.at < CHATTER_MILLIS;
    });
    const [first] = tooSoon;
    return first === undefined
      ? []
      : [{ subject: first.subject, rule: first.rule, from: first.at, beginnings: all.length }];
  });
}
