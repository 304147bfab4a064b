// A probe that fell faster than wax can cool: it hangs in the air, and the pot may be hot.

import { holdsMeltedWax, STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { UsualBand } from '../../measures/heater-band.ts';
import { highestWithin, lowestWithin, type Recent } from '../../measures/recent.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import type { WaxClass } from '../../../../wax/wax-class.ts';
import type { FreshProbe, StationInput } from '../../rule/rule-input.ts';
import { isBeforePause, isClosing } from '../heat/closing.ts';
import { FEWEST_LEARNED } from '../heat/runaway.ts';

/** Molten wax takes many minutes to freeze: 150 to 200 kJ/kg leave it first. */
const FREEZING_MILLIS = 8 * 60_000;
/**
 * At the pace at which a pot falls between two heatings its wax would fall by 60 K and more while it freezes (150 kJ/kg
 * over 2.5 kJ/(kg K)); a lid off, a cold room and the thin layer at its top may take off four fifths. No longer than so.
 */
const FREEZING_KELVINS = 12;
const LONGEST_FREEZING_MILLIS = 14 * 60_000;
function freezingMillis(usual: UsualBand | null): number {
  if (usual === null || usual.learned < FEWEST_LEARNED || usual.fallSeconds === 0) return FREEZING_MILLIS;
  const seconds = (FREEZING_KELVINS * usual.fallSeconds) / Math.max(0.1, usual.high - usual.low);
  return Math.min(LONGEST_FREEZING_MILLIS, Math.max(FREEZING_MILLIS, 1000 * seconds));
}
/** Kelvins below its melting range that wax is frozen for certain. */
const BELOW_KELVINS = 2;
/** Whoever wipes a probe, or lifts it out of the way, has it back within a minute. Common practice. */
const LIFTED_MILLIS = 65_000;
const FALL_MILLIS = 180_000;
/**
 * In air a probe falls several K a minute, freezing wax about one. The range of a class may lie above that of the wax in the
 * pot, so a slow fall through the low end of it proves nothing. Common practice.
 */
const AIR_FALL_KELVIN = 5;
/** So soon after it was above its melting range wax has frozen in part at most: it cannot be near the low end of it. */
const BEGINS_FREEZING_MILLIS = 150_000;
const NEAR_LOW_END_SHARE = 0.2;
/** Fresh water in a bath falls as fast as a probe that is lifted out, but is heated from then on; air is not. */
const WATER_FALL_MILLIS = 300_000;
const WATER_HEATED = { afterMillis: 165_000, kelvins: 0.4 };
/** Of a fall that is surely none, whatever its digits are rounded to. */
const CERTAIN_SHARE = 0.9;
/** Before the lab closes baths are emptied, or filled for the next day with the heater off. Common practice. */
const EMPTIED_MILLIS = 60 * 60_000;
const isEmptied = (input: StationInput): boolean =>
  input.hours.open && isClosing(input, EMPTIED_MILLIS) && !isBeforePause(input);
function hangsInAir(recent: Recent, at: number, celsius: number, fall: number): boolean {
  const before = recent.celsius.findLastIndex((earlier) => earlier - celsius >= fall);
  const millis = at - (recent.at[before] ?? 0);
  if (millis < WATER_HEATED.afterMillis || millis > WATER_FALL_MILLIS) return false;
  return celsius - lowestWithin(recent, at, millis) < WATER_HEATED.kelvins;
}

/** Cold wax that is added takes a layer of the pot into its melting range, and no further while another one is molten. */
const FAR_BELOW_KELVINS = 8;
/** One of several that is cold, minutes after it was molten, while another one still is; undefined where none is. */
function findFallen({ at, celsius, probes }: StationInput, { melting }: WaxClass): FreshProbe | undefined {
  if (celsius <= melting.high.value) return undefined;
  return probes.find(
    (probe) =>
      probe.celsius < melting.low.value - FAR_BELOW_KELVINS &&
      at - (probe.moltenAt ?? 0) < LONGEST_FREEZING_MILLIS &&
      at - (probe.moltenAt ?? 0) >= LIFTED_MILLIS,
  );
}

export const probeOut = stationRule({
  kind: 'probe-out',
  priority: 'high',
  extremes: [],
  fewestSamples: 2,
  formula:
    'pot: below its melting range within 8 min of being molten (up to 14 min, as long as 12 K take at its usual fall) after a fall of ≥ 5 K within 3 min, or in the lowest fifth of it within 2.5 min, not in the first 65 s; one of several: 8 K below it within 14 min of being molten while another one still is; bath: fell by ≥ fall within 5 min, and 165 s later has not risen by 0.4 K as fresh water that is heated, not within an hour of closing; until T is back within 3 K of the usual band',
  parameters: {
    fall_celsius_difference: parameter('celsius_difference', 8, [3, 40]),
    on_delay_seconds: onDelay(20),
    off_delay_seconds: offDelay(60),
  },
  // Wax that freezes is a surer sign than any fall.
  figuresOnlyAt: { fall_celsius_difference: (kind) => !holdsMeltedWax(kind) },
  appliesTo: (station, limits) =>
    limits.windowLow !== null &&
    (STATION_KIND_FACTS[station.kind].holdsMeltedWax || STATION_KIND_FACTS[station.kind].window === 'bath'),
  evaluate: (input, p, isOn) => {
    const { activity, at, band, celsius, limits, moltenAt, probes, recent, station, wax } = input;
    const melts = STATION_KIND_FACTS[station.kind].holdsMeltedWax;
    const usual = band?.usual ?? null;
    if (recent === null || activity === null) return 'unknown';
    const low =
      usual !== null && usual.learned >= FEWEST_LEARNED
        ? Math.min(usual.low, limits.windowLow?.value ?? usual.low)
        : (limits.windowLow?.value ?? celsius);
    const holding = { evidence: { value_celsius: celsius, low_celsius: low } };
    const coldest = Math.min(celsius, ...probes.map((probe) => probe.celsius));
    if (isOn) return coldest >= low - 3 ? 'gone' : holding;
    if (wax !== null && melts) {
      const fallen = findFallen(input, wax);
      if (fallen !== undefined) return { evidence: { value_celsius: fallen.celsius, low_celsius: low } };
      const fall = highestWithin(recent, at, FALL_MILLIS) - celsius;
      const since = moltenAt > 0 ? at - moltenAt : Number.POSITIVE_INFINITY;
      const [lowEnd, highEnd] = [wax.melting.low.value, wax.melting.high.value];
      const isBelow =
        since < freezingMillis(usual) && celsius < lowEnd - BELOW_KELVINS && fall >= AIR_FALL_KELVIN;
      const isSkipped =
        since < BEGINS_FREEZING_MILLIS && celsius < lowEnd + NEAR_LOW_END_SHARE * (highEnd - lowEnd);
      if (!isSkipped && !isBelow) return 'gone';
      return since < LIFTED_MILLIS ? 'between' : holding;
    }
    const fall = p.fall_celsius_difference;
    const hangs = celsius < low - fall / 2 && hangsInAir(recent, at, celsius, fall);
    return hangs && !isEmptied(input) ? holding : 'gone';
  },
  staysQuiet: ({ activity, at, band, celsius, limits, moltenAt, recent, station, wax }, p, bounds) => {
    if (recent === null || activity === null || limits.windowLow === null) return false;
    if (wax === null || !STATION_KIND_FACTS[station.kind].holdsMeltedWax) {
      const usual = band?.usual ?? null;
      const isUsualKnown = usual !== null && usual.learned >= FEWEST_LEARNED;
      const low = isUsualKnown ? Math.min(usual.low, limits.windowLow.value) : limits.windowLow.value;
      const fall = p.fall_celsius_difference;
      if (bounds.above(low - fall / 2)) return true;
      // Cold: it can have fallen so far only from above all of the last minutes.
      const highest = Math.max(celsius + fall / 2, ...recent.celsius);
      return bounds.below(celsius + fall / 2) && bounds.above(highest - CERTAIN_SHARE * fall);
    }
    const [low, high] = [wax.melting.low.value, wax.melting.high.value];
    if (bounds.allAbove(low + NEAR_LOW_END_SHARE * (high - low))) return true;
    // Frozen for long; it is seen molten only above its melting range.
    return at - moltenAt >= LONGEST_FREEZING_MILLIS && bounds.below(high);
  },
});
