// What other figures of a rule would have raised at stations on past readings: the same entries through the same rules,
// once with the lab as it is and once as it would be. Pure; where the readings come from is the caller's matter.

import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import { changeOverTime, type LabOverTime } from '../../../lab/database/past-lab.ts';
import { epochMillis } from '../../../wax/units.ts';
import { type RuleKind, RULES } from '../rules/all-rules.ts';
import { type Difference, compareRaised } from './compare-raised.ts';
import { type Raised, startReplay } from './replay.ts';

export interface Change {
  readonly stations: readonly string[];
  readonly rule: RuleKind;
  /** The figures as they would be; those left out keep their defaults. */
  readonly values: Readonly<Record<string, number | boolean>>;
}

export interface Trial {
  /** By the present figures, oldest first. */
  readonly before: readonly Raised[];
  readonly after: readonly Raised[];
  readonly differences: readonly Difference[];
}

/** Entries taken between two pauses: some milliseconds, so that whoever runs it can see to other things. */
const SLICE = 400;

/** Stations with their probes alone: of others nothing is replayed, and they are not silent for it. */
const labOfStations = (lab: Lab, stations: readonly string[]): Lab => ({
  ...lab,
  stations: lab.stations.filter(({ id }) => stations.includes(id)),
  probes: lab.probes.filter(({ station }) => station !== null && stations.includes(station)),
});

/** The stations that a trial replays: those of the change, and the whole lab where the rule looks around in it. */
export const stationsOnTrial = ({ stations }: Lab, { rule, stations: ids }: Change): readonly string[] =>
  RULES[rule].looksAround === true ? stations.map(({ id }) => id) : ids;

/**
 * Pauses after each slice of the work.
 * @param entries of the stations on trial, in order of arrival; see `entryMaker`
 * @param labAt by which the entries are judged; its charges and patterns may change, its stations and probes do not
 */
export function* trialInSlices(
  entries: readonly Entry[],
  labAt: LabOverTime,
  change: Change,
): Generator<undefined, Trial> {
  const onTrial = changeOverTime(labAt, (lab) => labOfStations(lab, stationsOnTrial(lab, change)));
  const present = startReplay(onTrial);
  const changed = startReplay(changeOverTime(onTrial, (lab) => withValues(lab, change)));
  for (let from = 0; from < entries.length; from += SLICE) {
    const slice = entries.slice(from, from + SLICE);
    present.take(slice);
    yield;
    changed.take(slice);
    yield;
  }
  const { probes } = labOfStations(labAt(entries[0]?.receivedAt ?? epochMillis(0)), change.stations);
  const subjects = new Set([...change.stations, ...probes.map(({ id }) => id)]);
  const isAbout = ({ rule, subject }: Raised): boolean => rule === change.rule && subjects.has(subject);
  const before = present.raised().filter(isAbout);
  const after = changed.raised().filter(isAbout);
  return { before, after, differences: compareRaised(before, after) };
}

const withValues = (lab: Lab, { rule, stations, values }: Change): Lab => ({
  ...lab,
  stations: lab.stations.map((station) =>
    stations.includes(station.id) ? { ...station, rules: { ...station.rules, [rule]: values } } : station,
  ),
});
