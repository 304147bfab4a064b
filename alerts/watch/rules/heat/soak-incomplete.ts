// A load was taken out before it was soft to the core.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { coreOf, isSoftToTheCore } from '../../measures/load.ts';
import { soakMinutes, soaks } from './soak-time.ts';

/** Doors that follow each other so soon are one visit. */
const ONE_VISIT_MINUTES = 4;
/** Times read off the temperature are not exact. */
const SHARE_OF_NEEDED = 0.85;
/** So long after the door it can still be put back. */
const BACK_MINUTES = 12;

/** Where nobody records loads, two doors stand for one: laid in, and taken out before its time. */
function openedEarly(
  activity: StationInput['activity'],
  at: number,
  openings: readonly number[],
  neededMinutes: number,
): Evaluation {
  if (activity?.kind !== 'hot') return 'gone';
  const today = openings.filter((opened) => opened > activity.since);
  const laidIn = today.at(-2);
  const takenOut = today.at(-1);
  if (laidIn === undefined || takenOut === undefined || !isTakenOut(today, neededMinutes)) return 'gone';
  const minutes = (takenOut - laidIn) / 60_000;
  if (minutes < ONE_VISIT_MINUTES || minutes >= SHARE_OF_NEEDED * neededMinutes) return 'gone';
  if (at - takenOut > BACK_MINUTES * 60_000) return 'gone';
  return {
    evidence: { load: '', lacks: 'door', soaked_minutes: minutes, needed_minutes: neededMinutes },
  };
}

/**
 * Doors take turns: in, out, in, out. Whether the newest one took out is decided by which turn has had fewer loads that
 * were too short so far; where both are alike, the first door of the day laid in.
 */
function isTakenOut(openings: readonly number[], neededMinutes: number): boolean {
  const tooShort = (first: number): number => {
    let count = 0;
    for (let index = first; index + 1 < openings.length - 1; index += 2)
      if ((openings[index + 1] ?? 0) - (openings[index] ?? 0) < SHARE_OF_NEEDED * neededMinutes * 60_000)
        count += 1;
    return count;
  };
  const [fromFirst, fromSecond] = [tooShort(0), tooShort(1)];
  return openings.length % 2 === 0 ? fromFirst <= fromSecond : fromSecond < fromFirst;
}

export const soakIncomplete = stationRule({
  kind: 'soak-incomplete',
  priority: 'medium',
  formula:
    'taken out, and minutes at or above window low < needed minutes or core < min(transition high, window low − 1 °C)',
  parameters: {
    needed_minutes: soakMinutes,
    told_minutes: parameter('after this it has been shaped anyway', 'minutes', 30, [1, 480]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: soaks,
  evaluate: ({ activity, at, load, openings }, p) => {
    if (load === null) return openedEarly(activity, at, openings, p.needed_minutes);
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
});
