// The way of a reading through the watch: into its probe, into the value and the measures of its station, past the
// rules, into alarms. A late reading never touches what is live; what it reveals is recorded as past.

import type { ReadingsEntry } from '../../../lab/entry.ts';
import type { Reading } from '../../../lab/reading.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { gatewayClockStep, steadyLagMillis } from '../measures/gateway-clock.ts';
import { advanceSignal } from '../measures/probe-signal.ts';
import { beginProbe, type Draft, editGateway, editProbe, editStation } from './draft.ts';
import { evaluateProbe } from './evaluate-probe.ts';
import { evaluateStation } from './evaluate-station.ts';
import type { Moment } from './evaluate.ts';
import { combineProbes, staleMillis } from './freshness.ts';
import type { ProbePlan } from './lab-plan.ts';
import { takeLateReading } from './late-readings.ts';
import { measureStation, stationInput } from './measure-station.ts';
import { type GatewayMemory, gatewayKey, type ProbeMemory } from './memory.ts';
import { stepPatterns } from './patterns.ts';

/** The period is learned slowly, and one outage must not stretch it. */
const PERIOD_GAIN = 0.2;
const PERIOD_MOST_STRETCH = 4;
const PERIOD_SECONDS = { least: 0.2, most: 3600 };

export function takeReadings(draft: Draft, entry: ReadingsEntry): void {
  const gateway = editGateway(draft, gatewayKey(entry.gateway));
  gateway.receivedAt = draft.receivedAt;
  let newest = Number.NEGATIVE_INFINITY;
  for (const reading of entry.readings) {
    // Doubtful readings are stored and shown, but judge nothing; unclaimed probes belong to no station.
    if (reading.quality !== 'good') continue;
    newest = Math.max(newest, reading.at);
    const plan = draft.plan.probes.get(reading.probe);
    if (plan !== undefined) takeReading(draft, plan, reading, gateway);
  }
  if (newest > 0) gateway.clock = gatewayClockStep(gateway.clock, draft.receivedAt, newest);
}

function takeReading(draft: Draft, plan: ProbePlan, reading: Reading, gateway: GatewayMemory): void {
  const before = draft.parts[plan.key];
  if (before !== undefined && reading.at <= before.at) {
    if (reading.at < before.at) takeLateReading(draft, plan, reading);
    return;
  }
  const beforeAt = before?.at ?? 0;
  const probe = takeIntoProbe(draft, plan, reading);
  const { station: stationPlan } = plan;
  const station = editStation(draft, stationPlan.key);
  const stale = staleMillis(stationPlan, draft.parts);
  const lag = steadyLagMillis(gateway.clock) ?? 0;
  const moment = (at: number, previous: number): Moment => ({
    at: at as EpochMillis,
    tense: draft.receivedAt - lag - at > stale ? 'learned' : 'now',
    afterGap: at - previous > stale,
  });
  // Another probe of the station may be some seconds ahead; one that lags by more is recorded, not mixed in.
  if (reading.at >= station.at - stale) {
    const previous = station.at;
    combineProbes(stationPlan, station, draft.parts, Math.max(reading.at, station.at));
    measureStation(draft, stationPlan, station, probe.periodSeconds);
    const now = moment(station.at, previous);
    if (stationPlan.patterns.length > 0) stepPatterns(draft, stationPlan, station, now);
    const input = stationInput(draft.lab, stationPlan, station, draft.parts);
    evaluateStation(draft, stationPlan, station, input, now);
  }
  evaluateProbe(draft, plan, probe, station, moment(reading.at, beforeAt));
}

function takeIntoProbe(draft: Draft, plan: ProbePlan, { at, celsius }: Reading): ProbeMemory {
  const probe = editProbe(draft, plan.key);
  if (probe === undefined) return beginProbe(draft, plan.key, at, celsius);
  const seconds = (at - probe.at) / 1000;
  const counted = Math.min(seconds, PERIOD_MOST_STRETCH * probe.periodSeconds);
  const period =
    probe.readings === 1 ? seconds : probe.periodSeconds + PERIOD_GAIN * (counted - probe.periodSeconds);
  advanceSignal(probe.signal, probe.at, probe.celsius, at, celsius);
  probe.periodSeconds = Math.min(PERIOD_SECONDS.most, Math.max(PERIOD_SECONDS.least, period));
  probe.at = at;
  probe.celsius = celsius;
  probe.readings += 1;
  return probe;
}
