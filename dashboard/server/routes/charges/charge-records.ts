// What the lab's records hold of the wax in a pot when it is changed, topped up or an entry is taken back. Pure: the
// records that are to be written come out, and who may do it is no matter of this file.

import { type Charge, OLDEST_ACT_HOURS, TAKE_BACK_HOURS, type TopUp } from '../../../../lab/charge.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import { instantOf } from '../../base/instant.ts';
import { fieldProblem } from '../../base/problem.ts';
import { iso } from '../../../../wax/iso.ts';

export interface NewestAct {
  readonly id: string;
  readonly kind: 'charge-changed' | 'topped-up';
  readonly at: string;
  readonly until: string;
}

/** A phone's clock and the way to the server may be off by this. */
const CLOCK_SLACK_MILLIS = 120_000;

const POINTER = '/body/at';

/** When it was done; undefined when it is entered as it is done. */
export const doneAt = (
  asked: string | undefined,
  now: EpochMillis,
  present: Charge | null,
): EpochMillis | undefined => {
  if (asked === undefined) return undefined;
  const at = instantOf(asked, POINTER);
  if (at > now + CLOCK_SLACK_MILLIS) throw fieldProblem(POINTER, 'field-in-the-future');
  if (now - at > OLDEST_ACT_HOURS * MILLIS_PER_HOUR)
    throw fieldProblem(POINTER, 'field-too-old', { hours: OLDEST_ACT_HOURS });
  const earliest = present === null ? at : Date.parse(present.startedAt);
  if (at + CLOCK_SLACK_MILLIS < earliest) throw fieldProblem(POINTER, 'field-before-charge');
  return epochMillis(Math.min(Math.max(at, earliest), now));
};

export const withTopUp = (charge: Charge, topUp: TopUp): Charge => ({
  ...charge,
  topUps: [...charge.topUps, topUp],
});

/** The entry that can be taken back next; null when it is too old, or from before entries had an id. */
export const newestAct = (charge: Charge, now: EpochMillis): NewestAct | null => {
  if (charge.endedAt !== null) return null;
  const topUp = charge.topUps.at(-1);
  const [id, at, kind] =
    topUp === undefined
      ? ([charge.id, charge.startedAt, 'charge-changed'] as const)
      : ([topUp.id, topUp.at, 'topped-up'] as const);
  const until = epochMillis(Date.parse(at) + TAKE_BACK_HOURS * MILLIS_PER_HOUR);
  return id === undefined || now > until ? null : { id, kind, at, until: iso(until) };
};

interface TakenBack {
  readonly by: string;
  readonly reason: string;
}

/** `all`: every charge of the pot. The records as they are once the newest entry of `present` is taken back. */
export const afterTakingBack = (
  present: Charge,
  all: readonly Charge[],
  at: EpochMillis,
  takenBack: TakenBack,
): readonly Charge[] => {
  if (present.topUps.length > 0) return [{ ...present, topUps: present.topUps.slice(0, -1) }];
  const before = all.find(
    ({ endedAt, takenBack: undone }) => endedAt === present.startedAt && undone === undefined,
  );
  const wrong = { ...present, endedAt: iso(at), takenBack };
  if (before === undefined) return [wrong];
  // The pot may have been cleaned meanwhile; filling it is no cleaning of the charge that goes on.
  const isCleaned = present.cleanedAt !== null && present.cleanedAt > present.startedAt;
  return [wrong, { ...before, endedAt: null, cleanedAt: isCleaned ? present.cleanedAt : before.cleanedAt }];
};
