// Readings into the watch: each probe's newest, the station's value from its fresh probes, and all that looks at it.
// A late reading never touches what is live; what it reveals is told as learned.

import type { ReadingsEntry } from '../../../lab/entry.ts';
import type { Reading } from '../../../lab/reading.ts';
import type { EpochMillis } from '../../../wax/units.ts';
import { gatewayClockStep, steadyLagMillis } from '../measures/gateway-clock.ts';
import { trackStep } from '../measures/probe-track.ts';
import { combine } from './fresh-probes.ts';
import { staleMillis } from './freshness.ts';
import type { StationPlan } from './lab-plan.ts';
import { takeLateReading } from './late-readings.ts';
import { measure } from './measure.ts';
import { type GatewayMemory, newProbe, type ProbeMemory } from './memory.ts';
import { stepPatterns } from './patterns.ts';
import { lookAtProbe } from './probe-look.ts';
import { lookAtStation } from './station-look.ts';
import type { Moment } from './tell.ts';
import { editGateway, editStation, type Work } from './work.ts';

/** The period is learned slowly, and one outage must not stretch it. */
const PERIOD_GAIN = 0.2;
const PERIOD_MOST_STRETCH = 4;
const PERIOD_SECONDS = { least: 0.2, most: 3600 };

export function takeReadings(work: Work, entry: ReadingsEntry): void {
  const gateway = editGateway(work, entry.gateway);
  gateway.heardAt = work.receivedAt;
  let newest = Number.NEGATIVE_INFINITY;
  for (const reading of entry.readings) {
    // Doubtful readings are stored and shown, but judge nothing; unclaimed probes belong to no station.
    if (reading.quality !== 'good') continue;
    newest = Math.max(newest, reading.at);
    const plan = work.plan.stationOfProbe.get(reading.probe);
    if (plan !== undefined) takeReading(work, plan, reading, gateway);
  }
  if (newest > 0) gateway.clock = gatewayClockStep(gateway.clock, work.receivedAt, newest);
}

function takeReading(work: Work, plan: StationPlan, reading: Reading, gateway: GatewayMemory): void {
  const { at, celsius } = reading;
  const memory = editStation(work, plan.partName);
  const known = memory.probes[reading.probe];
  if (known !== undefined && at <= known.newestAt) {
    if (at < known.newestAt) takeLateReading(work, plan, memory, reading);
    return;
  }
  const probe = known ?? newProbe(at, celsius);
  const before = known === undefined ? 0 : known.newestAt;
  if (known === undefined) memory.probes[reading.probe] = probe;
  else advanceProbe(known, at, celsius);

  const stale = staleMillis(memory);
  const lag = steadyLagMillis(gateway.clock) ?? 0;
  const moment = (when: number, previous: number): Moment => ({
    at: when as EpochMillis,
    tense: work.receivedAt - lag - when > stale ? 'learned' : 'now',
    afterGap: when - previous > stale,
  });
  // Another probe of the station may be some seconds ahead; one that lags by more is told of, not mixed in.
  if (at >= memory.at - stale) {
    const previous = memory.at;
    combine(plan, memory, Math.max(at, memory.at));
    measure(work, plan, memory, probe.periodSeconds);
    const now = moment(memory.at, previous);
    if (plan.patterns.length > 0) stepPatterns(work, plan, memory.at, memory.celsius, now);
    lookAtStation(work, plan, memory, now);
  }
  lookAtProbe(work, plan, memory, reading.probe, moment(at, before));
}

function advanceProbe(probe: ProbeMemory, at: number, celsius: number): void {
  const seconds = (at - probe.newestAt) / 1000;
  const taken = Math.min(seconds, PERIOD_MOST_STRETCH * probe.periodSeconds);
  const period =
    probe.readings === 1 ? seconds : probe.periodSeconds + PERIOD_GAIN * (taken - probe.periodSeconds);
  probe.track = trackStep(probe.track, { at: probe.newestAt, celsius: probe.celsius }, at, celsius);
  probe.periodSeconds = Math.min(PERIOD_SECONDS.most, Math.max(PERIOD_SECONDS.least, period));
  probe.newestAt = at;
  probe.celsius = celsius;
  probe.readings += 1;
}
