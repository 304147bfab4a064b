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
/** So long after the door it has shown what it did, and can still be put back. */
const SHOWN_MINUTES = 1.5;
const BACK_MINUTES = 12;
/** Kelvins that the top after a door must differ from the one before, and rise above the usual one. */
const LEAST_DIFFERENCE = 0.2;
const LEAST_OVERSHOOT = 0.1;

/**
 * Where nobody records loads. After a door the heater makes up for the air that was lost: a cold load takes that heat up,
 * so the temperature comes back without overshooting; with the load gone it overshoots. So the top after each of two
 * doors says which of them laid in and which took out.
 */
function openedEarly(
  { activity, at, band, openings, openingTops }: StationInput,
  neededMinutes: number,
): Evaluation {
  const usual = band?.usual ?? null;
  if (activity?.kind !== 'hot' || usual === null) return 'gone';
  const [laidIn, takenOut] = openings.slice(-2);
  const [topAfterIn, topAfterOut] = openingTops.slice(-2);
  if (laidIn === undefined || takenOut === undefined || laidIn < activity.since) return 'gone';
  if (topAfterIn === undefined || topAfterOut === undefined) return 'gone';
  const minutes = (takenOut - laidIn) / 60_000;
  if (minutes < ONE_VISIT_MINUTES || minutes >= SHARE_OF_NEEDED * neededMinutes) return 'gone';
  const since = (at - takenOut) / 60_000;
  if (since > BACK_MINUTES) return 'gone';
  const isOut = topAfterOut > usual.high + LEAST_OVERSHOOT && topAfterOut - topAfterIn > LEAST_DIFFERENCE;
  if (since < SHOWN_MINUTES || !isOut) return 'gone';
  return {
    evidence: { load: '', lacks: 'door', soaked_minutes: minutes, needed_minutes: neededMinutes },
  };
}

export const soakIncomplete = stationRule({
  kind: 'soak-incomplete',
  priority: 'medium',
  formula:
    'taken out, and minutes at or above window low < needed minutes or core < min(transition high, window low − 1 °C); where no loads are recorded: two doors nearer than 0.85 · needed minutes, and the top after the second is > 0.2 K above that after the first and > 0.1 K above the usual one',
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
});
