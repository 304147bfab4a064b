// How many readings a second pass through the watch on one core: a lab of some thirty probes at work, heaters cycling, a
// fault among them, all rules at their defaults. Once in the small batches in which readings arrive live, each with a state of
// its own, once in the large ones of a replay, whose state is written in place: both must come to the same alarms. Then the
// same with patterns lying at every place. The peer is a bare pass over the same values.

import { createHash } from 'node:crypto';
import type { WatchState } from '../../alerts/watch/engine/state/memory.ts';
import type { Watch } from '../../alerts/watch/engine/watch.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Pattern } from '../../lab/pattern.ts';
import { stores } from '../../lab/station-kinds.ts';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { makeCase } from '../../simulators/cases/make-case.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { caseLab, TECHNICIAN } from '../faultbench/case-lab.ts';

const ROUNDS = 5;
const BARE_PASSES = 100;
const LEAST_PROBES = 30;
const TICK_MILLIS = 5000;
const LIVE_BATCH = 40;
const REPLAY_BATCH = 2000;
const PATTERNS_A_PLACE = 5;
/** Cases that bring pots, annealers, baths and storage places; one of them with a fault. */
const CASES = [
  ['stuck_on', 2],
  ['normal-winter-week', 3],
  ['normal-lunch-on', 4],
  ['normal-dipping', 5],
  ['normal-summer-week', 6],
  ['normal-transition-week', 7],
  ['normal-hot-topup', 8],
] as const;

/** Readings in the order of their arrival; columns, because a million objects would be gone through by each collection of garbage. */
interface Workload {
  readonly lab: Lab;
  readonly begin: number;
  readonly ids: readonly string[];
  /** Index in `ids`. */
  readonly probe: Uint16Array;
  readonly at: Float64Array;
  readonly receivedAt: Float64Array;
  readonly celsius: Float64Array;
}

/**
 * Several simulated labs as one, for as long as all of them are at work: ids get the number of their case, instants count
 * from the start of the first.
 */
function workload(): Workload {
  const parts: { readonly lab: Lab; readonly labelled: LabelledCase; readonly prefix: string }[] = [];
  for (const [name, seed] of CASES) {
    if (parts.reduce((sum, { lab }) => sum + lab.probes.length, 0) >= LEAST_PROBES) break;
    const labelled = makeCase(name, seed);
    parts.push({ labelled, lab: caseLab(labelled).lab, prefix: `c${parts.length}-` });
  }
  const [first] = parts;
  if (first === undefined) throw new Error('replay bench: no case was made');
  const begin = first.labelled.starts;
  const lab: Lab = {
    ...first.lab,
    stations: parts.flatMap(({ lab: { stations }, prefix }) =>
      stations.map((station) => ({ ...station, id: prefix + station.id })),
    ),
    probes: parts.flatMap(({ lab: { probes }, prefix }) =>
      probes.map((probe) => ({
        ...probe,
        id: prefix + probe.id,
        gateway: prefix + probe.gateway,
        station: probe.station === null ? null : prefix + probe.station,
      })),
    ),
    charges: [],
    patterns: [],
  };
  const ids = parts.flatMap(({ labelled, prefix }) => labelled.probes.map((id) => prefix + id));
  const numberOf = new Map(ids.map((id, index) => [id, index]));
  const ofParts = parts.map(({ labelled, prefix }) => {
    // Whole weeks apart, so that working hours stay where they were.
    const shift = begin - labelled.starts;
    const { at, celsius: value, probe, receivedAt } = labelled.readings;
    return Array.from(at, (instant, index) => ({
      at: instant + shift,
      receivedAt: (receivedAt[index] ?? instant) + shift,
      probe: numberOf.get(prefix + (labelled.probes[probe[index] ?? 0] ?? '')) ?? 0,
      celsius: value[index] ?? 0,
    }));
  });
  const ends = Math.min(...ofParts.map((rows) => rows.at(-1)?.receivedAt ?? begin));
  const rows = ofParts.flat().filter(({ receivedAt }) => receivedAt <= ends);
  rows.sort((a, b) => a.receivedAt - b.receivedAt);
  return {
    lab,
    begin,
    ids,
    probe: Uint16Array.from(rows, ({ probe }) => probe),
    at: Float64Array.from(rows, ({ at }) => at),
    receivedAt: Float64Array.from(rows, ({ receivedAt }) => receivedAt),
    celsius: Float64Array.from(rows, (row) => row.celsius),
  };
}

/** The lab with so many patterns at each storage place, laid there an hour apart. */
function withPatterns(work: Workload): Workload {
  const places = work.lab.stations.filter(({ kind }) => stores(kind));
  const patterns = places.flatMap(({ id: station }) =>
    Array.from({ length: PATTERNS_A_PLACE }, (_, index): Pattern => {
      const from = new Date(work.begin + index * 3_600_000).toISOString();
      return {
        id: `${station}-${index}`,
        caseReference: '',
        wax: 'inlay-type-2',
        technique: 'dipped',
        length_millimetres: 8,
        tolerance_micrometres: 80,
        madeAt: from,
        madeBy: TECHNICIAN,
        stays: [{ station, from, to: null }],
        fate: null,
      };
    }),
  );
  return { ...work, lab: { ...work.lab, patterns } };
}

function* batchesOf({ lab, begin, ids, ...columns }: Workload, size: number): Generator<readonly Entry[]> {
  const gatewayOf = new Map(lab.probes.map(({ id, gateway }) => [id, gateway]));
  let ticked = begin;
  let entries: Entry[] = [];
  for (const [index, arrival] of columns.receivedAt.entries()) {
    for (; ticked < arrival; ticked += TICK_MILLIS)
      entries.push({ kind: 'tick', receivedAt: epochMillis(ticked) });
    const probe = ids[columns.probe[index] ?? 0] ?? '';
    const at = epochMillis(columns.at[index] ?? 0);
    entries.push({
      kind: 'readings',
      receivedAt: epochMillis(arrival),
      gateway: gatewayOf.get(probe) ?? '',
      readings: [{ probe, at, celsius: celsius(columns.celsius[index] ?? 0), quality: 'good' }],
    });
    if (entries.length < size) continue;
    yield entries;
    entries = [];
  }
  yield entries;
}

const secondsSince = (before: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1e6;
};

interface Pass {
  /** Of all alarm changes. */
  readonly hash: string;
  /** Of processor time, of the watch alone. */
  readonly seconds: number;
}

function pass(work: Workload, batch: number, take: Watch['stepAll']): Pass {
  const hash = createHash('sha256');
  let state: WatchState = waxWatch.initial();
  let seconds = 0;
  for (const entries of batchesOf(work, batch)) {
    const before = process.cpuUsage();
    const step = take(state, entries, work.lab);
    seconds += secondsSince(before);
    state = step.state;
    for (const change of step.alarmChanges) hash.update(JSON.stringify(change));
  }
  return { hash: hash.digest('hex'), seconds };
}

function barePass(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value > 100 ? 1 : 0;
  return sum;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;

function printRate(name: string, work: Workload): void {
  const readings = work.at.length;
  const rates: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    rates.push(readings / pass(work, REPLAY_BATCH, waxWatch.advance).seconds);
    const before = process.cpuUsage();
    for (let turn = 0; turn < BARE_PASSES; turn += 1) barePass(work.celsius);
    bare.push((BARE_PASSES * readings) / secondsSince(before));
  }
  const value = median(rates);
  const peer = median(bare);
  const spread = `${Math.round(Math.min(...rates))} to ${Math.round(Math.max(...rates))}`;
  const { patterns, probes, stations } = work.lab;
  const line = {
    name,
    value: Math.round(value),
    unit: 'readings/s of processor time',
    peer: 'bare pass over a typed array',
    peer_value: Math.round(peer),
    ratio: value / peer,
    n: readings,
    note: `${probes.length} probes, ${stations.length} stations, ${patterns.length} patterns, a tick every 5 s; ${ROUNDS} rounds, ${spread}`,
  };
  console.log(JSON.stringify(line));
}

export async function run(): Promise<void> {
  const work = workload();
  const live = pass(work, LIVE_BATCH, waxWatch.stepAll).hash;
  const replayed = pass(work, REPLAY_BATCH, waxWatch.advance).hash;
  printRate('replay-rules', work);
  printRate('replay-with-patterns', withPatterns(work));
  console.log(
    JSON.stringify({
      name: 'replay-equals-live',
      value: live === replayed ? 1 : 0,
      unit: '1: same alarm changes',
      peer: `batches of ${LIVE_BATCH}`,
      peer_value: 1,
      ratio: live === replayed ? 1 : 0,
      n: work.at.length,
      note: `sha256 ${replayed.slice(0, 16)}`,
    }),
  );
}
