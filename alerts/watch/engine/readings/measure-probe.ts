// What the readings of a probe show of the probe, before any of them is doubted: leaps to both sides, and at a place a move
// that mirrors that of another probe.

import { advanceApart, startApart } from '../../measures/apart.ts';
import { type PlaceMove, areMirrored, moveStep } from '../../measures/place-move.ts';
import { countSpikes } from '../../measures/probe-signal.ts';
import {
  advanceZigzag,
  HEATER_LEAPS,
  type LeapScale,
  leapsToBothSides,
  noiseReach,
  PLACE_LEAPS,
  startZigzag,
  type Zigzag,
} from '../../measures/zigzag.ts';
import { type Draft, editProbe, probeOf } from '../state/draft.ts';
import type { ProbePlan } from '../state/lab-plan.ts';
import type { ProbeMemory } from '../state/memory.ts';

/** Both are plugged in again within this, or within some readings of the slower one. */
const AT_ONCE_MILLIS = 180_000;
const AT_ONCE_PERIODS = 2;
/** Spikes that make a loose contact. */
const LEAPS_TO_BOTH_SIDES = 2;

/** How far it stands from the other probes of its place; of a believed reading. */
export function measureApart({ parts }: Draft, plan: ProbePlan, memory: ProbeMemory, stale: number): void {
  const { at, apart, celsius } = memory;
  let [others, sum] = [0, 0];
  let isDoubted = false;
  for (const { key } of plan.station.probes) {
    const other = parts[key];
    const { conditions = {} } = other ?? {};
    if (conditions['probe-disagrees'] !== undefined || conditions['probe-stuck'] !== undefined)
      isDoubted = true;
    if (key === plan.key || other === undefined || at - other.at > stale) continue;
    others += 1;
    sum += other.celsius;
  }
  if (others === 0) return;
  const level = sum / others;
  if (apart === undefined) memory.apart = startApart(at, celsius - level, level);
  else advanceApart(apart, at, celsius - level, level, !isDoubted);
}

export function measureHeaterProbe(memory: ProbeMemory, at: number, celsius: number): void {
  if (memory.zigzag === undefined) memory.zigzag = startZigzag(at, celsius);
  else followLeaps(memory, memory.zigzag, at, celsius, HEATER_LEAPS);
}

function followLeaps(
  { signal }: ProbeMemory,
  zigzag: Zigzag,
  at: number,
  celsius: number,
  scale: LeapScale,
): void {
  advanceZigzag(zigzag, at, celsius, scale);
  if (leapsToBothSides(zigzag)) countSpikes(signal, at, LEAPS_TO_BOTH_SIDES);
}

export function measurePlaceProbe(
  draft: Draft,
  plan: ProbePlan,
  memory: ProbeMemory,
  at: number,
  celsius: number,
): void {
  const { zigzag } = memory;
  if (zigzag === undefined) {
    memory.zigzag = startZigzag(at, celsius);
    return;
  }
  const before = zigzag.celsius;
  const noise = noiseReach(zigzag, PLACE_LEAPS);
  followLeaps(memory, zigzag, at, celsius, PLACE_LEAPS);
  const move = moveStep(memory.moved, at, before, celsius, noise);
  if (move === undefined) return;
  memory.moved = move;
  if (move.at === at) findSwapped(draft, plan, memory, move);
}

function findSwapped(draft: Draft, plan: ProbePlan, memory: ProbeMemory, move: PlaceMove): void {
  for (const otherPlan of draft.plan.probes.values()) {
    if (otherPlan.station === plan.station) continue;
    const other = probeOf(draft, otherPlan);
    if (other?.moved === undefined || other.zigzag === undefined) continue;
    const periods = AT_ONCE_PERIODS * Math.max(memory.periodSeconds, other.periodSeconds);
    if (move.at - other.moved.at > Math.max(AT_ONCE_MILLIS, 1000 * periods)) continue;
    // It must still be there.
    const otherMove = { ...other.moved, to: other.zigzag.celsius };
    if (!areMirrored(move, otherMove)) continue;
    memory.signal.step = move;
    const edited = editProbe(draft, otherPlan);
    if (edited !== undefined) edited.signal.step = otherMove;
  }
}
