// The way of a reading through the watch: into its probe, into the value and the measures of its station, past the
// rules, into alarms. A late reading never touches what is live; what it reveals is recorded as past.

import { MOST_DELAY_MILLIS, type ReadingsEntry, type Timing } from '../../../../lab/entry.ts';
import type { Reading } from '../../../../lab/reading.ts';
import { burnsOut, stores } from '../../../../lab/station-kinds.ts';
import { epochMillis } from '../../../../wax/units.ts';
import { isPutBack, plausibleClimb } from '../../measures/leap.ts';
import {
  advanceSignal,
  FURNACE_CHANGE,
  HEATER_CHANGE,
  PLACE_CHANGE,
  type PlausibleChange,
  stepOf,
} from '../../measures/probe-signal.ts';
import {
  beginProbe,
  type Draft,
  editAnyGateway,
  editGateway,
  editProbe,
  editStation,
  probeOf,
} from '../state/draft.ts';
import { evaluateProbe } from '../findings/evaluate-probe.ts';
import { evaluateStation } from '../findings/evaluate-station.ts';
import type { Moment } from '../findings/evaluate.ts';
import { combineProbes, staleAfter, staleMillis, takeLoneProbe } from '../state/freshness.ts';
import type { ProbePlan, StationPlan } from '../state/lab-plan.ts';
import { takeLateReading } from './late-readings.ts';
import { measureApart, measureHeaterProbe, measurePlaceProbe } from './measure-probe.ts';
import { measureStation } from '../measured/measure-station.ts';
import { gatewayKey, type ProbeMemory, type StationMemory } from '../state/memory.ts';
import { stepPatterns } from '../findings/patterns.ts';
import { markSwapped } from './swapped-probes.ts';

/** The period is learned slowly, and one outage must not stretch it. */
const PERIOD_GAIN = 0.2;
const PERIOD_MOST_STRETCH = 4;
const PERIOD_SECONDS = { least: 0.2, most: 3600 };

export function takeReadings(draft: Draft, entry: ReadingsEntry): void {
  const expected = draft.plan.gateways.get(entry.gateway);
  const gateway =
    expected === undefined ? editAnyGateway(draft, gatewayKey(entry.gateway)) : editGateway(draft, expected);
  const { timing = timingByAge(entry) } = entry;
  if (entry.clockLagMillis !== undefined) gateway.lagMillis = entry.clockLagMillis;
  if (entry.isClockUnsteady === true) gateway.isClockUnsteady = true;
  else if (gateway.isClockUnsteady === true) gateway.isClockUnsteady = false;
  // What it delivers now weighs more than an `offline` that it, or the broker for it, sent before.
  if (timing === 'live' && gateway.online === false) gateway.online = null;
  gateway.receivedAt = draft.receivedAt;
  for (const reading of entry.readings) {
    const plan = draft.plan.probes.get(reading.probe);
    // Unclaimed probes belong to no station.
    if (plan !== undefined && isJudged(reading)) takeReading(draft, plan, reading, timing);
  }
}

/** A burst of readings without times is spread over no more than this after its arrival. */
const MOST_AHEAD_MILLIS = 60_000;

/** For entries of which nobody compared the gateway's clock with arrival. */
function timingByAge({ readings, receivedAt }: ReadingsEntry): Timing {
  for (const { at } of readings) if (receivedAt - at <= MOST_DELAY_MILLIS) return 'live';
  return 'past';
}

/** Readings that may not be real are stored and shown, but judge nothing; an uncertain time hides no heat. */
const isJudged = ({ quality }: Reading): boolean => quality !== 'suspect';

function takeReading(draft: Draft, plan: ProbePlan, reading: Reading, timing: Timing): void {
  const remembered = probeOf(draft, plan);
  const before = remembered !== undefined && remembered.readings > 0 ? remembered : undefined;
  const at = placeInTime(draft, plan, before, reading, timing);
  if (at === 'repeated') return;
  if (at === 'late') {
    takeLateReading(draft, plan, reading);
    return;
  }
  const beforeAt = before?.at ?? 0;
  const probe =
    (before === undefined ? undefined : editProbe(draft, plan)) ??
    beginProbe(draft, plan, at, reading.celsius);
  if (beforeAt > 0) noteArrival(probe, (draft.receivedAt - probe.receivedAt) / 1000, (at - beforeAt) / 1000);
  probe.receivedAt = draft.receivedAt;
  if (probe.lateInARow !== undefined) delete probe.lateInARow;
  if (probe.goneAt !== undefined && timing === 'live') delete probe.goneAt;
  const { station: stationPlan } = plan;
  const station = editStation(draft, stationPlan);
  const isAtWork = station.activity?.kind === 'hot';
  if (stores(stationPlan.station.kind)) measurePlaceProbe(draft, plan, probe, at, reading.celsius);
  else if (stationPlan.isLiquid) measureHeaterProbe(probe, at, reading.celsius);
  const isBelieved = beforeAt === 0 || advanceProbe(plan, probe, at, reading.celsius, station, isAtWork);
  const isAlone = stationPlan.probes.length === 1;
  if (isBelieved && !isAlone) noteMolten(stationPlan, probe);
  const stale = isAlone ? staleAfter(probe.periodSeconds) : staleMillis(stationPlan, draft.parts);
  if (isBelieved && !isAlone && stores(stationPlan.station.kind)) measureApart(draft, plan, probe, stale);
  const isNow = timing === 'live' && draft.receivedAt - at <= Math.max(stale, MOST_DELAY_MILLIS);
  const tense = isNow ? ('now' as const) : ('learned' as const);
  // A step is accepted when a second reading bears it out: both of them count.
  const samples = probe.signal.step?.at === at ? 2 : 1;
  // Another probe of the station may be some seconds ahead; one that lags by more is recorded, not mixed in.
  let own: Moment | null = null;
  if (isBelieved && at >= station.at - stale) {
    const previous = station.at;
    const valueAt = Math.max(at, station.at);
    if (isAlone) takeLoneProbe(plan, probe, station, valueAt);
    else combineProbes(stationPlan, station, draft.parts, valueAt);
    measureStation(draft, stationPlan, station, previous, probe);
    const now = momentOf(station.at, previous, stale, tense, samples);
    if (now.at === at && previous === beforeAt) own = now;
    // What leapt is first of all its probe; what that means for the heater comes after it.
    if (probe.signal.step?.at === at)
      evaluateProbe(draft, plan, probe, station, own ?? momentOf(at, beforeAt, stale, tense, samples));
    if (stationPlan.patterns.length > 0) stepPatterns(draft, stationPlan, station, now);
    evaluateStation(draft, stationPlan, station, now);
    if (stationPlan.isHeater && isAlone) markSwapped(draft, plan, probe, station, at);
  }
  evaluateProbe(draft, plan, probe, station, own ?? momentOf(at, beforeAt, stale, tense, samples));
}

/** Readings that a gateway gathers before it sends them, at least; fewer may be late by chance. */
const FEWEST_GATHERED = 3;

/** A reading that arrives sooner after the one before than it was measured after it came with it. */
function noteArrival(probe: ProbeMemory, seconds: number, measuredSeconds: number): void {
  const { deliverySeconds = 0, deliverySecondsBefore = 0, gathered = 1 } = probe;
  if (seconds < measuredSeconds / 2) probe.gathered = gathered + 1;
  else if (gathered > 1 || deliverySeconds > 0 || deliverySecondsBefore > 0) {
    probe.gathered = 1;
    probe.deliverySecondsBefore = deliverySeconds;
    probe.deliverySeconds = gathered < FEWEST_GATHERED ? 0 : Math.min(PERIOD_SECONDS.most, seconds);
  }
}

/** A pot whose other probe stays in the wax shows by that which one has left it. */
function noteMolten({ isPot, wax }: StationPlan, probe: ProbeMemory): void {
  if (isPot && wax !== null && probe.celsius > wax.melting.high.value) probe.moltenAt = probe.at;
}

const momentOf = (
  at: number,
  previousAt: number,
  staleAfterMillis: number,
  tense: Moment['tense'],
  samples: number,
): Moment => ({ at: epochMillis(at), tense, afterGap: at - previousAt > staleAfterMillis, samples });

/** The instant of a reading by the lab's time; a reading older than the newest of its probe is late. */
function placeInTime(
  draft: Draft,
  plan: ProbePlan,
  before: ProbeMemory | undefined,
  reading: Reading,
  timing: Timing,
): number | 'late' | 'repeated' {
  const at = Math.min(reading.at, draft.receivedAt + MOST_AHEAD_MILLIS);
  if (before === undefined || at > before.at) return at;
  if (at === before.at) return 'repeated';
  if (timing === 'past' || draft.receivedAt - before.receivedAt < NEXT_AFTER_MILLIS) return 'late';
  // One may have been sent again; a second in a row shows that the clock of its gateway was set back a little.
  if ((before.lateInARow ?? 0) > 0) return Math.max(before.at + 1, draft.receivedAt);
  const probe = editProbe(draft, plan);
  if (probe !== undefined) probe.lateInARow = 1;
  return 'late';
}
/** Readings of one probe come no faster, and those of one message at once. */
const NEXT_AFTER_MILLIS = 1000;

/** Takes the reading into the memory of its probe; false while it is doubted. */
function advanceProbe(
  plan: ProbePlan,
  probe: ProbeMemory,
  at: number,
  celsius: number,
  station: StationMemory,
  isAtWork: boolean,
): boolean {
  const seconds = (at - probe.at) / 1000;
  const counted = Math.min(seconds, PERIOD_MOST_STRETCH * probe.periodSeconds);
  const period =
    probe.readings === 1 ? seconds : probe.periodSeconds + PERIOD_GAIN * (counted - probe.periodSeconds);
  probe.periodSeconds = Math.min(PERIOD_SECONDS.most, Math.max(PERIOD_SECONDS.least, period));
  probe.at = at;
  probe.readings += 1;
  const { signal } = probe;
  const change =
    (isAtWork && plan.station.probes.length === 1
      ? plausibleClimb(station, plan.station.limits, signal.celsius, celsius, stepOf(signal))
      : null) ?? plausibleChangeAt(plan.station);
  const stepBefore = signal.step;
  if (!advanceSignal(signal, at, celsius, change, isAtWork)) return false;
  if (
    plan.station.isHeater &&
    signal.step !== stepBefore &&
    isPutBack(signal.step, stepBefore, station.recent)
  )
    signal.step = stepBefore;
  probe.celsius = probe.signal.celsius;
  return true;
}

const plausibleChangeAt = ({ isHeater, station }: StationPlan): PlausibleChange => {
  if (isHeater) return HEATER_CHANGE;
  return burnsOut(station.kind) ? FURNACE_CHANGE : PLACE_CHANGE;
};
