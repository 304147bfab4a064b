// A load was taken out before it was soft to the core.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { comeTooOften, type DoorOpening, type DoorSigns } from '../../measures/door-signs.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { coreOf, isSoftToTheCore } from '../../measures/load.ts';
import { soakMinutes, soaks } from './soak-time.ts';

/** Doors that follow each other within this share of the time that is needed are one visit. */
const ONE_VISIT_SHARE = 0.22;
/** Times read off the temperature are not exact. */
const SHARE_OF_NEEDED = 0.85;
/** So long after the door it has shown what it did, and can still be put back. */
const SHOWN_MINUTES = 1.2;
const BACK_MINUTES = 12;
/**
 * Kelvins that the top after the door must be above the one before, and may be short of the usual one; and standard
 * deviations and steps of a reading that two tops differ by without any meaning.
 */
const LEAST_DIFFERENCE = 0.05;
const DIFFERENCE_NOISES = 1;
const DIFFERENCE_STEPS = 1.5;
const MOST_UNDER_USUAL = 0.15;

const leastDifference = ({ noise = 0, step = 0 }: DoorSigns): number =>
  Math.max(LEAST_DIFFERENCE, DIFFERENCE_NOISES * noise, DIFFERENCE_STEPS * step);

/** Whether the heater carried the air to its usual top after `opening`, and higher than after `earlier`. */
const isEmptied = (opening: DoorOpening, earlier: DoorOpening, signs: DoorSigns): boolean =>
  opening.top > signs.high - MOST_UNDER_USUAL && opening.top - earlier.top > leastDifference(signs);

/** The first of the doors, each soon after the one before, since the cabinet was emptied before: what is in came with it. */
function loadedBy(signs: DoorSigns, mostMinutes: number): DoorOpening | undefined {
  const { openings } = signs;
  let first = openings.at(-2);
  for (const opening of openings.slice(0, -2).reverse()) {
    if (first === undefined || first.at - opening.at >= mostMinutes * 60_000) break;
    if (isEmptied(opening, first, signs)) break;
    first = opening;
  }
  return first;
}

/** By the same sign, and at least as plain, a soaked load was taken out at `opening`, so the door after it laid in. */
function tookOut(
  opening: DoorOpening,
  after: DoorOpening,
  signs: DoorSigns,
  since: number,
  leastMinutes: number,
): boolean {
  const before = signs.openings.filter(({ at }) => at < opening.at && at >= since).at(-1);
  if (before === undefined || opening.at - before.at < leastMinutes * 60_000) return false;
  return isEmptied(opening, before, signs) && opening.top - before.top >= after.top - opening.top;
}

/**
 * Where nobody records loads. After a door the heater makes up for the air that was lost: a cold load takes that heat up,
 * so the air comes back short of its usual top; with the load gone it reaches that top or overshoots. So the tops after
 * two doors say which of them laid in and which took out.
 */
function openedEarly({ activity, at, doors }: StationInput, neededMinutes: number): Evaluation {
  const takenOut = doors?.openings.at(-1);
  if (activity?.kind !== 'hot' || doors === null || takenOut === undefined) return 'gone';
  if (comeTooOften(doors.openings, at)) return 'gone';
  const since = (at - takenOut.at) / 60_000;
  if (since < SHOWN_MINUTES || since > BACK_MINUTES) return 'gone';
  const laidIn = loadedBy(doors, SHARE_OF_NEEDED * neededMinutes);
  if (laidIn === undefined || laidIn.at < activity.since || !isEmptied(takenOut, laidIn, doors))
    return 'gone';
  if (tookOut(laidIn, takenOut, doors, activity.since, SHARE_OF_NEEDED * neededMinutes)) return 'gone';
  const minutes = (takenOut.at - laidIn.at) / 60_000;
  if (minutes < ONE_VISIT_SHARE * neededMinutes || minutes >= SHARE_OF_NEEDED * neededMinutes) return 'gone';
  return {
    evidence: { load: '', lacks: 'door', soaked_minutes: minutes, needed_minutes: neededMinutes },
  };
}

export const soakIncomplete = stationRule({
  kind: 'soak-incomplete',
  priority: 'medium',
  formula:
    'taken out, and minutes at or above window low < needed minutes or core < min(transition high, window low − 1 °C); where no loads are recorded: two doors 0.22 to 0.85 · needed minutes apart, and the top after the second is higher than that after the first by > 0.05 K, the noise of a reading, 1.5 of its steps and, where the first may have ended a soak, the rise of its own top, and > usual top − 0.15 K, unless the sixth door before was less than an hour ago',
  parameters: {
    needed_minutes: soakMinutes,
    told_minutes: parameter('minutes', 30, [1, 480]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: soaks,
  evaluate: (input, p) => {
    const { at, load } = input;
    if (load === null) return openedEarly(input, p.needed_minutes);
    if (load.takenOutAt === null) return 'gone';
    const core = coreOf(load);
    const isTooShort = load.soakedMinutes < p.needed_minutes;
    if (!isTooShort && isSoftToTheCore(load)) return 'gone';
    if (at - load.takenOutAt > p.told_minutes * 60_000) return 'gone';
    return {
      evidence: {
        load: load.load,
        lacks: isTooShort ? 'time' : 'core',
        soaked_minutes: load.soakedMinutes,
        needed_minutes: p.needed_minutes,
        ...(core !== null && load.softAt !== null && { core_celsius: core, soft_celsius: load.softAt }),
      },
    };
  },
  staysQuiet: ({ activity, at, doors, load }) => {
    if (load !== null) return false;
    const newest = doors?.openings.at(-1);
    return activity?.kind !== 'hot' || newest === undefined || at - newest.at > BACK_MINUTES * 60_000;
  },
});
