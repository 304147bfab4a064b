// What people do to the wax in a pot, and what it went through: changed, topped up, cleaned, taken back. An act that
// may be a mistake keeps the charge before it for a day; that one counts on, so that nothing is missing when the act
// is taken back.

import type { StationAct } from '../../../../lab/act.ts';
import { TAKE_BACK_HOURS } from '../../../../lab/charge.ts';
import type { Lab } from '../../../../lab/lab.ts';
import { labsWaxClass } from '../../../../lab/limits.ts';
import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import type { WaxClass } from '../../../../wax/wax-class.ts';
import { WAX_CLASS_IDS } from '../../../../wax/classes/wax-class-id.ts';
import type { Refusal } from '../../life/refusal.ts';
import {
  type ChargeDose,
  chargeDoseSince,
  freshCharge,
  runningCharge,
  topUp,
} from '../../measures/charge-dose.ts';
import { meanOf } from '../../measures/ten-minutes.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { EarlierCharge, StationMemory } from '../state/memory.ts';
import { closedHistory, type Draft } from '../state/draft.ts';

type ChargeAct = Extract<
  StationAct,
  { type: 'charge-changed' | 'topped-up' | 'cleaned' | 'charge-taken-back' }
>;

const MOST_EARLIER = 8;

const hotHours = ({ dose }: ChargeDose): number => dose.hotSeconds / 3600;

/** `plan.wax` may be that of a charge which came after. */
const waxOf = (id: EarlierCharge['wax'], plan: StationPlan, lab: Lab): WaxClass =>
  plan.wax?.id === id ? plan.wax : labsWaxClass(id, lab);

/** The present charge and those that it may be taken back to, each by its own wax. */
export function countCharges(
  lab: Lab,
  plan: StationPlan,
  memory: StationMemory,
  count: (charge: ChargeDose, wax: WaxClass) => ChargeDose,
): void {
  if (!plan.isPot || plan.wax === null) return;
  memory.charge = runningCharge(count(memory.charge, plan.wax));
  if (memory.earlierCharges.length === 0) return;
  memory.earlierCharges = memory.earlierCharges.map((earlier) => ({
    ...earlier,
    charge: count(earlier.charge, waxOf(earlier.wax, plan, lab)),
  }));
}

const keepEarlier = (memory: StationMemory, act: string | undefined, plan: StationPlan, at: number): void => {
  const oldest = at - TAKE_BACK_HOURS * MILLIS_PER_HOUR;
  const young = memory.earlierCharges.filter(({ recordedAt }) => recordedAt >= oldest);
  const { charge, hotHoursBefore } = memory;
  if (act === undefined || plan.wax === null) memory.earlierCharges = [];
  else
    memory.earlierCharges = [
      ...young,
      { act, recordedAt: at, wax: plan.wax.id, charge, hotHoursBefore },
    ].slice(-MOST_EARLIER);
};

const takeBack = (memory: StationMemory, act: string, at: number): Refusal | null => {
  const newest = memory.earlierCharges.at(-1);
  if (
    newest === undefined ||
    newest.act !== act ||
    at - newest.recordedAt > TAKE_BACK_HOURS * MILLIS_PER_HOUR
  )
    return { code: 'nothing-to-take-back' };
  memory.charge = runningCharge(newest.charge);
  memory.hotHoursBefore = newest.hotHoursBefore;
  memory.earlierCharges = memory.earlierCharges.slice(0, -1);
  return null;
};

/** What the pot went through since an act that is entered later; null: it is entered as it is done. */
const gatherSince = (
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  act: ChargeAct,
): ChargeDose | null => {
  const doneAt = 'at' in act ? act.at : undefined;
  const filled = act.type === 'charge-changed' ? WAX_CLASS_IDS.find((id) => id === act.wax) : undefined;
  const wax = filled === undefined ? plan.wax : waxOf(filled, plan, draft.lab);
  if (doneAt === undefined || doneAt >= memory.at || wax === null) return null;
  const means = [
    ...closedHistory(draft.parts, plan.historyKey),
    ...(memory.tenMinutes === null ? [] : [memory.tenMinutes]),
  ];
  return chargeDoseSince(doneAt, means.map(meanOf), memory, wax);
};

export function takeChargeAct(
  draft: Draft,
  plan: StationPlan,
  memory: StationMemory,
  act: ChargeAct,
): Refusal | null {
  const at = draft.receivedAt;
  switch (act.type) {
    case 'charge-changed': {
      const gained = gatherSince(draft, plan, memory, act);
      keepEarlier(memory, act.id, plan, at);
      memory.hotHoursBefore += hotHours(memory.charge) - (gained === null ? 0 : hotHours(gained));
      memory.charge = runningCharge(gained ?? freshCharge());
      return null;
    }
    case 'topped-up': {
      const gained = gatherSince(draft, plan, memory, act);
      keepEarlier(memory, act.id, plan, at);
      memory.charge = runningCharge(topUp(memory.charge, act.fraction, gained?.dose.hours));
      return null;
    }
    case 'cleaned':
      // Not a negation: minus nought would not survive JSON.
      memory.hotHoursBefore = 0 - hotHours(memory.charge);
      if (memory.earlierCharges !== undefined)
        memory.earlierCharges = memory.earlierCharges.map((earlier) => ({
          ...earlier,
          hotHoursBefore: 0 - hotHours(earlier.charge),
        }));
      return null;
    case 'charge-taken-back':
      return takeBack(memory, act.id, at);
  }
}
