// Readings into the watch: each probe's newest, the station's value from its fresh probes, what is measured of it,
// and the rules that look at it. Late readings never touch what is live.

import type { ReadingsEntry } from '../../lab/entry.ts';
import type { Reading } from '../../lab/reading.ts';
import { activityStep } from '../measures/activity.ts';
import { pastStep } from '../measures/past.ts';
import { trendStep } from '../measures/trend.ts';
import { staleMillis } from './freshness.ts';
import { lookAtStation } from './station-look.ts';
import type { StationPlan } from './lab-plan.ts';
import { newProbe, type ProbeMemory, type StationMemory } from './memory.ts';
import { closedBuckets, editGateway, editStation, putPart, type Work } from './work.ts';

/** The period is learned slowly, and one outage must not stretch it. */
const PERIOD_GAIN = 0.2;
const PERIOD_MOST_STRETCH = 4;
const PERIOD_SECONDS = { least: 0.2, most: 3600 };

export function takeReadings(work: Work, entry: ReadingsEntry): void {
  editGateway(work, entry.gateway).heardAt = entry.receivedAt;
  for (const reading of entry.readings) {
    const plan = work.plan.stationOfProbe.get(reading.probe);
    // Unclaimed probes belong to no station; doubtful readings are stored and shown, but judge nothing.
    if (plan !== undefined && reading.quality === 'good') takeReading(work, plan, reading);
  }
}

function takeReading(work: Work, plan: StationPlan, reading: Reading): void {
  const { at, celsius } = reading;
  const memory = editStation(work, plan.partName);
  const probe = memory.probes[reading.probe];
  if (probe === undefined) memory.probes[reading.probe] = newProbe(at, celsius);
  else if (at <= probe.newestAt) return;
  else advanceProbe(probe, at, celsius);

  // Another probe of the station may be some seconds ahead; one that lags by more is told of, not mixed in.
  if (at < memory.at - staleMillis(memory)) return;
  const previousAt = memory.at;
  combine(plan, memory, Math.max(at, memory.at));
  const period = memory.probes[reading.probe]?.periodSeconds ?? 60;
  memory.trend = trendStep(memory.trend, memory.at, memory.celsius, Math.max(trendSeconds(plan), 3 * period));
  keepPast(work, plan, memory);
  if (plan.isHeater) memory.activity = activityStep(memory.activity, memory.at, memory.celsius, plan.limits);
  const stale = staleMillis(memory);
  lookAtStation(work, plan, memory, {
    at: memory.at as Reading['at'],
    tense: work.receivedAt - memory.at > stale ? 'learned' : 'now',
    afterGap: memory.at - previousAt > stale,
  });
}

function keepPast(work: Work, plan: StationPlan, memory: StationMemory): void {
  const closed = closedBuckets(work.parts, plan.pastName);
  const past = pastStep({ closed, open: memory.bucket }, memory.at, memory.celsius);
  memory.bucket = past.open;
  if (past.closed !== closed) putPart(work, plan.pastName, past.closed);
}

/** A heater turns within minutes; a room within an hour. */
const trendSeconds = (plan: StationPlan): number => (plan.isHeater ? 120 : 1200);

function advanceProbe(probe: ProbeMemory, at: number, celsius: number): void {
  const seconds = (at - probe.newestAt) / 1000;
  const taken = Math.min(seconds, PERIOD_MOST_STRETCH * probe.periodSeconds);
  const period =
    probe.readings === 1 ? seconds : probe.periodSeconds + PERIOD_GAIN * (taken - probe.periodSeconds);
  probe.periodSeconds = Math.min(PERIOD_SECONDS.most, Math.max(PERIOD_SECONDS.least, period));
  probe.newestAt = at;
  probe.celsius = celsius;
  probe.readings += 1;
}

/** With several probes: the hottest fresh one for a heater, the mean of the fresh ones for a place. */
function combine(plan: StationPlan, memory: StationMemory, at: number): void {
  let hottest = Number.NEGATIVE_INFINITY;
  let sum = 0;
  let fresh = 0;
  let uncertainty = 0;
  const oldest = at - staleMillis(memory);
  for (const probe of plan.probes) {
    const seen = memory.probes[probe.id];
    if (seen === undefined || seen.newestAt < oldest) continue;
    fresh += 1;
    sum += seen.celsius;
    if (plan.isHeater ? seen.celsius > hottest : probe.uncertainty_celsius > uncertainty)
      uncertainty = probe.uncertainty_celsius;
    hottest = Math.max(hottest, seen.celsius);
  }
  memory.at = at;
  memory.celsius = plan.isHeater ? hottest : sum / fresh;
  memory.uncertainty = uncertainty;
}
