// What another figure of a rule would have raised on past readings: the same readings through the same rules, once as
// the lab is and once as it would be. Pure; where the readings come from is the caller's matter.

import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Reading } from '../../lab/reading.ts';
import { epochMillis } from '../../wax/units.ts';
import type { Finding } from './life/finding.ts';
import type { RuleKind } from './rules/all-rules.ts';
import { waxWatch } from './wax-watch.ts';

export interface Change {
  readonly station: string;
  readonly rule: RuleKind;
  /** The figures as they would be; those left out keep their defaults. */
  readonly values: Readonly<Record<string, number | boolean>>;
}

export interface Trial {
  /** How often the rule began with the lab's present figures. */
  readonly before: number;
  readonly after: number;
  /** When it would have begun, oldest first. */
  readonly beginnings: readonly Finding['at'][];
}

/** Passing time is rehearsed at this step, so that silences are seen. */
const TICK_MILLIS = 60_000;

/** Entries stepped between two pauses: some ten milliseconds, so that whoever runs it can see to other things. */
const SLICE = 200;

/**
 * Readings of any order; those of other stations are left out. What people did in that time (charges, planned
 * pauses) is not among the readings and is not rehearsed. Pauses after each slice of the work.
 */
export function* trialInSlices(
  readings: readonly Reading[],
  lab: Lab,
  change: Change,
): Generator<undefined, Trial> {
  const probes = new Map(
    lab.probes.filter(({ station }) => station === change.station).map((probe) => [probe.id, probe]),
  );
  const entries = rehearsed(
    readings.filter(({ probe }) => probes.has(probe)),
    (probe) => probes.get(probe)?.gateway ?? '',
  );
  const before = yield* beginnings(entries, lab, change, probes);
  const after = yield* beginnings(entries, withValues(lab, change), change, probes);
  return { before: before.length, after: after.length, beginnings: after };
}

/** As if each reading had arrived when it was taken. */
function rehearsed(readings: readonly Reading[], gatewayOf: (probe: string) => string): readonly Entry[] {
  const inTime = [...readings].sort((a, b) => a.at - b.at || (a.probe < b.probe ? -1 : 1));
  const entries: Entry[] = [];
  let ticked = inTime[0]?.at ?? epochMillis(0);
  for (const reading of inTime) {
    // A silence of days needs no more ticks than it takes to be seen.
    for (let ticks = 0; reading.at - ticked > TICK_MILLIS && ticks < 120; ticks += 1) {
      ticked = epochMillis(ticked + TICK_MILLIS);
      entries.push({ kind: 'tick', receivedAt: ticked });
    }
    ticked = reading.at;
    entries.push({
      kind: 'readings',
      receivedAt: reading.at,
      gateway: gatewayOf(reading.probe),
      readings: [reading],
    });
  }
  return entries;
}

function* beginnings(
  entries: readonly Entry[],
  lab: Lab,
  { station, rule }: Change,
  probes: ReadonlyMap<string, unknown>,
): Generator<undefined, readonly Finding['at'][]> {
  const found: Finding['at'][] = [];
  let state = waxWatch.initial();
  for (let from = 0; from < entries.length; from += SLICE) {
    const step = waxWatch.stepAll(state, entries.slice(from, from + SLICE), lab);
    state = step.state;
    for (const finding of step.findings)
      if (
        finding.rule === rule &&
        finding.phase === 'begins' &&
        (finding.subject === station || probes.has(finding.subject))
      )
        found.push(finding.at);
    yield;
  }
  return found;
}

const withValues = (lab: Lab, { station, rule, values }: Change): Lab => ({
  ...lab,
  stations: lab.stations.map((one) =>
    one.id === station ? { ...one, rules: { ...one.rules, [rule]: values } } : one,
  ),
});
