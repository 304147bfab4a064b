// Two probes that have changed places: one leapt up to where the other was, and since then that one has been
// where the first was. A fall alone proves nothing about its probe, because cold wax makes one too; nor does a quick rise,
// because hot wax that is poured in makes one.

import { type AbruptMove, findAbruptMove } from '../../measures/abrupt.ts';
import { roseBeyondItsPower } from '../../measures/leap.ts';
import { highestWithin, type Recent } from '../../measures/recent.ts';
import { type Draft, editProbe, probeOf, stationOf } from '../state/draft.ts';
import type { ProbePlan } from '../state/lab-plan.ts';
import type { ProbeMemory, StationMemory } from '../state/memory.ts';

/** Both are plugged in again within this. */
const AT_ONCE_MILLIS = 180_000;
const LEAST_FALL = 3;
/** A thermostat, or cold wax, moves each of them meanwhile: kelvins, and of a leap this share where that is more. */
const ALIKE = 3;
const ALIKE_SHARE = 0.35;
/** Of a rise that no leap was seen in, kelvins; both may differ by the share above at most. */
const LEAST_RISE = 3;
/**
 * Two steps at once out of the motion of the minutes before, each to where the other place was: kelvins that the places are
 * apart at least, how abrupt either step is, and both together.
 */
const ABRUPT = { apart: 1.2, times: 1.8, product: 9, withinMillis: 90_000 };
/** Kelvins within half a minute or a reading below which nobody looks for such a step. */
const LEAST_QUICK = 0.8;
const QUICK_MILLIS = 10_000;
/** A reading or two after somebody seems to have been at work there. */
const FALLING_MILLIS = 90_000;

/** Where a probe stood before it moved and after it. */
interface Move {
  readonly from: number;
  readonly to: number;
}

/** A lone probe of a heater with what was last seen there. */
interface Place {
  readonly plan: ProbePlan;
  readonly memory: StationMemory;
  readonly recent: Recent;
}

function placeOf(draft: Draft, plan: ProbePlan, at: number): Place | null {
  if (!plan.station.isHeater || plan.station.probes.length > 1) return null;
  const memory = stationOf(draft, plan.station);
  if (memory?.recent == null) return null;
  return at - memory.at > AT_ONCE_MILLIS ? null : { plan, memory, recent: memory.recent };
}

/** How far the heater of a probe fell of late; null where it did not. */
function fallOf({ memory, recent }: Place): Move | null {
  const from = highestWithin(recent, memory.at, AT_ONCE_MILLIS);
  return from - memory.celsius < LEAST_FALL ? null : { from, to: memory.celsius };
}

const hasLeapt = ({ signal }: ProbeMemory, at: number): boolean =>
  signal.step !== null && signal.step.to > signal.step.from && at - signal.step.at <= AT_ONCE_MILLIS;

/** Each is where the other was. */
function haveSwapped({ celsius, signal }: ProbeMemory, fall: Move): boolean {
  const alike = Math.max(ALIKE, ALIKE_SHARE * (fall.from - fall.to));
  return (
    Math.abs(celsius - fall.from) <= alike && Math.abs((signal.step?.from ?? celsius) - fall.to) <= alike
  );
}

/** Of the last minutes, newest first, the first value that meets the condition; null where none is. */
function newestValue(
  { memory: { at: now }, recent }: Place,
  isAsked: (celsius: number, millisAgo: number) => boolean,
): number | null {
  for (let index = recent.at.length - 1; index >= 0; index -= 1) {
    const millisAgo = now - (recent.at[index] ?? 0);
    const celsius = recent.celsius[index];
    if (millisAgo > AT_ONCE_MILLIS || celsius === undefined) return null;
    if (isAsked(celsius, millisAgo)) return celsius;
  }
  return null;
}

/** The moves of two heaters that mirror each other; null where they do not, or where the heater itself may have risen. */
function findMirrored(faller: Place, riser: Place): { readonly fall: Move; readonly rise: Move } | null {
  const [fallen, risen] = [faller.memory.celsius, riser.memory.celsius];
  const isNear = (first: number, second: number, rose: number): boolean =>
    Math.abs(first - second) <= Math.min(ALIKE, ALIKE_SHARE * rose);
  const { limits } = riser.plan.station;
  const low = newestValue(riser, (celsius, millisAgo) => {
    const rose = risen - celsius;
    if (rose < LEAST_RISE || !isNear(celsius, fallen, rose)) return false;
    return roseBeyondItsPower(riser.memory, limits, rose, millisAgo);
  });
  if (low === null) return null;
  const high = newestValue(
    faller,
    (celsius) => celsius - fallen >= LEAST_RISE && isNear(celsius, risen, risen - low),
  );
  return high === null ? null : { fall: { from: high, to: fallen }, rise: { from: low, to: risen } };
}

/** Whether its newest value lies so far from the one before that it may have stepped. */
function movedQuickly({ memory, recent }: Place): boolean {
  const before = recent.at.findLastIndex((at) => memory.at - at >= QUICK_MILLIS);
  return Math.abs(memory.celsius - (recent.celsius[before] ?? memory.celsius)) >= LEAST_QUICK;
}

const findStep = ({ memory, recent }: Place): AbruptMove | null =>
  findAbruptMove(recent, memory.at, memory.celsius, ABRUPT.withinMillis);

/** Steps of two heaters, each to where the other was; null where they are none. */
function findMirroredSteps(
  place: Place,
  otherPlace: Place,
): { readonly own: AbruptMove; readonly others: AbruptMove } | null {
  const own = findStep(place);
  const others = own === null ? null : findStep(otherPlace);
  if (own === null || others === null) return null;
  const apart = Math.abs(own.from - others.from);
  const isOpposite = (own.to - own.from) * (others.to - others.from) < 0;
  if (!isOpposite || apart < ABRUPT.apart) return null;
  if (Math.min(own.times, others.times) < ABRUPT.times || own.times * others.times < ABRUPT.product)
    return null;
  // Each place goes on meanwhile as it did before.
  const isThere = (to: number, { before, from }: AbruptMove): boolean =>
    Math.abs(to - from) <= Math.min(ALIKE, ALIKE_SHARE * apart + before);
  return isThere(own.to, others) && isThere(others.to, own) ? { own, others } : null;
}

/** After a reading of a probe that leapt, fell or stepped: marks the moves of two that changed places as leaps. */
export function markSwapped(
  draft: Draft,
  plan: ProbePlan,
  probe: ProbeMemory,
  station: StationMemory,
  at: number,
): void {
  const isLeaping = hasLeapt(probe, at);
  const place = placeOf(draft, plan, at);
  const mayHaveStepped = place !== null && movedQuickly(place);
  if (!isLeaping && !mayHaveStepped && at - station.disturbedAt > FALLING_MILLIS) return;
  const fall = isLeaping || place === null ? null : fallOf(place);
  if (!isLeaping && !mayHaveStepped && fall === null) return;
  for (const otherPlan of draft.plan.probes.values()) {
    if (otherPlan.key === plan.key) continue;
    const other = placeOf(draft, otherPlan, at);
    const memory = probeOf(draft, otherPlan);
    if (other === null || memory === undefined) continue;
    if (isLeaping) {
      const otherFall = fallOf(other);
      if (otherFall !== null && haveSwapped(probe, otherFall))
        markLeap(editProbe(draft, otherPlan), otherFall, at);
    } else if (fall !== null && hasLeapt(memory, at)) {
      if (haveSwapped(memory, fall)) markLeap(probe, fall, at);
    } else if (place !== null) {
      const steps = mayHaveStepped ? findMirroredSteps(place, other) : null;
      if (steps !== null) {
        markLeap(probe, steps.own, at);
        markLeap(editProbe(draft, otherPlan), steps.others, at);
      }
      const moves = fall === null || steps !== null ? null : findMirrored(place, other);
      if (moves === null) continue;
      markLeap(probe, moves.fall, at);
      markLeap(editProbe(draft, otherPlan), moves.rise, at);
    }
  }
}

function markLeap(probe: ProbeMemory | undefined, { from, to }: Move, at: number): void {
  if (probe === undefined) return;
  const { step } = probe.signal;
  if (step === null || at - step.at > AT_ONCE_MILLIS) probe.signal.step = { at, from, to };
}
