// What lies out of sight while nothing is received: whether it can wait for the morning, and what people must look at.

import { isOpen, nextOpening } from '../../../../lab/calendar.ts';
import { epochMillis } from '../../../../wax/units.ts';
import type { Evidence } from '../../rule/finding.ts';
import type { RuleKind } from '../../rules/all-rules.ts';
import type { Draft } from '../state/draft.ts';
import { isOn } from '../findings/evaluate.ts';
import type { StationPlan } from '../state/lab-plan.ts';
import type { StationMemory, WatchState } from '../state/memory.ts';

/** While one of these is on, what lies at the place is in danger. */
const DANGERS_OF_STORAGE: readonly RuleKind[] = [
  'storage-warm',
  'storage-swing',
  'storage-rate',
  'door-open',
  'pattern-due',
];

/**
 * True while nobody need be woken for what these stations might do unseen: the lab is closed, each heater was cold when it
 * was last seen, and no pattern comes to harm before the lab opens. What was never seen is not known to be safe.
 */
export function canWaitForMorning(draft: Draft, stations: readonly StationPlan[], at: number): boolean {
  const { site } = draft.lab;
  const now = epochMillis(at);
  if (isOpen(site, now)) return false;
  const opening = nextOpening(site, now);
  return opening !== null && stations.every((plan) => isCalm(draft.parts, plan, opening));
}

function isCalm(state: WatchState, plan: StationPlan, until: number): boolean {
  const memory = state[plan.key];
  if (memory === undefined || memory.at === 0) return false;
  if (plan.isHeater) return memory.activity?.kind === 'cold';
  if (plan.patterns.length === 0) return true;
  if (DANGERS_OF_STORAGE.some((kind) => isOn(memory.conditions, kind))) return false;
  return plan.patterns.every(({ key }) => {
    const verdict = state[key]?.outlook?.verdict;
    return verdict !== undefined && (verdict.toleranceAt === null || verdict.toleranceAt > until);
  });
}

export const wasHot = (memory: StationMemory | undefined): boolean =>
  memory?.activity?.kind === 'hot' || memory?.activity?.kind === 'warming';

/** Names of heaters that were on when they were last seen, and of places where patterns lie; for a person to go to. */
export function whatToLookAt(state: WatchState, stations: readonly StationPlan[]): Evidence {
  const hot = stations.filter((plan) => plan.isHeater && wasHot(state[plan.key]));
  const storing = stations.filter((plan) => plan.patterns.length > 0);
  const look =
    hot.length > 0 ? (storing.length > 0 ? 'both' : 'hot') : storing.length > 0 ? 'patterns' : 'none';
  return { look, hot_stations: namesOf(hot), pattern_places: namesOf(storing) };
}

/** Stations with probes of which nothing has come since an instant by arrival. */
export function findUnseen(state: WatchState, stations: readonly StationPlan[], since: number): Evidence {
  const unseen = stations.filter(
    ({ probes }) => probes.length > 0 && probes.every(({ key }) => (state[key]?.receivedAt ?? 0) < since),
  );
  return { unseen: unseen.length > 0 ? 'some' : 'none', unseen_stations: namesOf(unseen) };
}

const namesOf = (stations: readonly StationPlan[]): string =>
  stations.map(({ station }) => station.name).join(', ');
