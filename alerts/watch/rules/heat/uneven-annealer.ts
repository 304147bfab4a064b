// Two places in one softening cabinet that do not agree: the wax softens unevenly.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** After a warm-up, and after a door, its places need so long to be even. */
const SETTLED_MILLIS = 20 * 60_000;
/** So shortly before closing it is switched off, and its fan with it. */
const CLOSING_MILLIS = 45 * 60_000;
/** °C an hour. */
const FALLING_RATE = -8;
const CLOSED_MILLIS = 6 * 60_000;

export const unevenAnnealer = stationRule({
  kind: 'uneven-annealer',
  priority: 'medium',
  formula: 'T hottest − T coldest > share · limit, at work and not within 6 min of an opened door',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 2.5, [0.5, 20]),
    early_share: parameter('share', 0.95, [0.3, 1]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(150),
    off_delay_seconds: offDelay(300),
  },
  appliesTo: (station) => STATION_KIND_FACTS[station.kind].comparesZones,
  evaluate: ({ activity, at, celsius, celsiusPerHour, hours, limits, openings, probes }, p) => {
    if (probes.length < 2) return 'unknown';
    // What falls fast is switched off, or its door is open.
    const isFalling = (celsiusPerHour ?? 0) < FALLING_RATE;
    const isClosing = hours.to !== null && hours.to - at < CLOSING_MILLIS;
    const isWorking =
      hours.open && !isClosing && !isFalling && celsius >= (limits.windowLow?.value ?? celsius) - 2;
    if (activity === null || activity.kind === 'cold' || !isWorking) return 'gone';
    const byHeat = [...probes].sort((a, b) => b.celsius - a.celsius);
    const [hottest, coldest] = [byHeat[0], byHeat.at(-1)];
    if (hottest === undefined || coldest === undefined) return 'unknown';
    const spread = hottest.celsius - coldest.celsius;
    const limit = p.early_share * p.limit_celsius_difference;
    const openedAt = openings.at(-1) ?? 0;
    if (activity.kind !== 'hot' || at - activity.since < SETTLED_MILLIS || at - openedAt < CLOSED_MILLIS)
      return spread <= limit ? 'gone' : 'between';
    if (spread <= limit) return spread <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: { spread_celsius_difference: spread, hottest: hottest.id, coldest: coldest.id },
      worst: spread,
    };
  },
  updateStep: 2,
});
