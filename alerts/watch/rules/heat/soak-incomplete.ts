// A load was taken out before it was soft to the core.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { comeTooOften } from '../../measures/door-signs.ts';
import { findEarlyTakingOut } from '../../measures/door-visits.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { coreOf, isSoftToTheCore } from '../../measures/load.ts';
import { soakMinutes, soaks } from './soak-time.ts';

/** So long after the door it has shown what it did, and can still be put back. */
const SHOWN_MINUTES = 1.2;
const BACK_MINUTES = 12;

/** Where nobody records loads, the temperature after each door shows what was done at it. */
function evaluateDoors({ activity, at, doors }: StationInput, neededMinutes: number): Evaluation {
  const newest = doors?.openings.at(-1);
  if (activity?.kind !== 'hot' || doors === null || newest === undefined) return 'gone';
  if (comeTooOften(doors.openings, at)) return 'gone';
  const since = (at - newest.at) / 60_000;
  if (since < SHOWN_MINUTES || since > BACK_MINUTES) return 'gone';
  const minutes = findEarlyTakingOut(doors, activity.since, neededMinutes);
  if (minutes === null) return 'gone';
  return { evidence: { load: '', lacks: 'door', soaked_minutes: minutes, needed_minutes: neededMinutes } };
}

export const soakIncomplete = stationRule({
  kind: 'soak-incomplete',
  priority: 'medium',
  extremes: [],
  formula:
    'taken out, and minutes at or above window low < needed minutes or core < min(transition high, window low − 1 °C); where no loads are recorded: the likeliest explanation of all doors since it became warm, by how long loads and gaps last and by the top after each (short of the usual one with a cold load inside, at or above it without), has a load in for 0.22 to 0.85 · needed minutes and taken out at the newest door; unless the sixth door before was less than an hour ago',
  parameters: {
    needed_minutes: soakMinutes,
    told_minutes: parameter('minutes', 30, [1, 480]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: soaks,
  evaluate: (input, p) => {
    const { at, load } = input;
    if (load === null) return evaluateDoors(input, p.needed_minutes);
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
