// The heat dose of the charge in a pot, with a ledger of the gaps in which nothing was measured: a late reading that
// falls into a gap is counted there, once, however often it is delivered. Dose: see wax/heat/heat-dose.ts.

import type { Celsius, EpochMillis, Fraction } from '../../../wax/units.ts';
import {
  type DoseOptions,
  type DoseState,
  doseAdvance,
  doseAfterTopUp,
  doseKinetics,
  doseStart,
  doseStep,
  runningDose,
} from '../../../wax/heat/heat-dose.ts';
import type { Mutable } from '../../../wax/reading-guard.ts';
import type { WaxClass } from '../../../wax/wax-class.ts';

interface Gap {
  readonly from: number;
  readonly fromCelsius: number;
  readonly to: number;
  readonly toCelsius: number;
}

/** Plain JSON. */
export interface ChargeDose {
  readonly dose: DoseState;
  /** Oldest first. */
  readonly gaps: readonly Gap[];
}

/** One that is advanced in place: of one owner alone. */
export interface RunningCharge {
  dose: Mutable<DoseState>;
  gaps: readonly Gap[];
}
export const runningCharge = ({ dose, gaps }: ChargeDose): RunningCharge => ({
  dose: runningDose(dose),
  gaps,
});

const MOST_GAPS = 40;
/** Common practice: a pot does not change its mind within five minutes. */
const LONGEST_GAP_SECONDS = 300;
/** Two means of ten minutes and a half: a longer pause between them is a gap. */
const LONGEST_MEAN_GAP_SECONDS = 1500;

const options = new WeakMap<WaxClass, DoseOptions>();

/** Wax ages while it is molten; a pot that is cold all night ages nothing. */
function optionsOf(wax: WaxClass): DoseOptions {
  let found = options.get(wax);
  if (found === undefined) {
    found = {
      kinetics: doseKinetics(wax),
      longestGap: LONGEST_GAP_SECONDS as DoseOptions['longestGap'],
      hotAbove: wax.melting.low.value as Celsius,
    };
    options.set(wax, found);
  }
  return found;
}

export const freshCharge = (): ChargeDose => ({ dose: doseStart(), gaps: [] });

export function advanceCharge(charge: RunningCharge, at: number, celsius: number, wax: WaxClass): void {
  const { dose } = charge;
  if (dose.readings > 0 && at - dose.at > LONGEST_GAP_SECONDS * 1000) {
    const gap = { from: dose.at, fromCelsius: dose.celsius, to: at, toCelsius: celsius };
    charge.gaps = [...charge.gaps, gap].slice(-MOST_GAPS);
  }
  doseAdvance(dose, { at: at as EpochMillis, celsius: celsius as Celsius }, optionsOf(wax));
}

export function chargeDoseStep(charge: ChargeDose, at: number, celsius: number, wax: WaxClass): ChargeDose {
  const next = runningCharge(charge);
  advanceCharge(next, at, celsius, wax);
  return next;
}

/** A reading older than the newest: it counts where nothing was known, else the straight line has counted it. */
export function chargeDoseLate(charge: ChargeDose, at: number, celsius: number, wax: WaxClass): ChargeDose {
  const index = charge.gaps.findIndex((gap) => gap.from < at && at < gap.to);
  const gap = charge.gaps[index];
  if (gap === undefined) return charge;
  const sides: readonly Gap[] = [
    { ...gap, to: at, toCelsius: celsius },
    { ...gap, from: at, fromCelsius: celsius },
  ];
  let { dose } = charge;
  const still: Gap[] = [];
  for (const side of sides) {
    const seconds = (side.to - side.from) / 1000;
    if (seconds > LONGEST_GAP_SECONDS) {
      still.push(side);
      continue;
    }
    const from = {
      ...doseStart(),
      at: side.from as EpochMillis,
      celsius: side.fromCelsius as Celsius,
      readings: 1,
    };
    const ramp = doseStep(from, side.to as EpochMillis, side.toCelsius as Celsius, optionsOf(wax));
    dose = {
      ...dose,
      hours: (dose.hours + ramp.hours) as DoseState['hours'],
      hotSeconds: (dose.hotSeconds + ramp.hotSeconds) as DoseState['hotSeconds'],
      gapSeconds: (dose.gapSeconds - seconds) as DoseState['gapSeconds'],
    };
  }
  return { dose, gaps: [...charge.gaps.slice(0, index), ...still, ...charge.gaps.slice(index + 1)] };
}

interface Mean {
  readonly at: number;
  readonly celsius: number;
}

/** What wax that is in the pot since `from` went through, by means of ten minutes and the newest value. */
export function chargeDoseSince(
  from: number,
  means: readonly Mean[],
  newest: Mean,
  wax: WaxClass,
): ChargeDose {
  const course = [...means.filter(({ at }) => at > from && at < newest.at), newest];
  const first = course[0] ?? newest;
  let dose = doseStart();
  for (const { at, celsius } of [{ at: from, celsius: first.celsius }, ...course])
    dose = doseStep(dose, at as EpochMillis, celsius as Celsius, {
      ...optionsOf(wax),
      longestGap: LONGEST_MEAN_GAP_SECONDS as DoseOptions['longestGap'],
    });
  return { dose, gaps: [] };
}

/**
 * What was missed before the top-up can no longer be told apart from what came after, so the gaps are dropped.
 * `since`: equivalent hours gained after the top-up, when it is entered later; fresh and old wax gained them alike.
 */
export const topUp = (charge: ChargeDose, fraction: number, since = 0): ChargeDose => {
  const gained = Math.min(since, charge.dose.hours);
  const then = { ...charge.dose, hours: (charge.dose.hours - gained) as DoseState['hours'] };
  const dose = doseAfterTopUp(then, Math.min(1, Math.max(0, fraction)) as Fraction);
  return { dose: { ...dose, hours: (dose.hours + gained) as DoseState['hours'] }, gaps: [] };
};
