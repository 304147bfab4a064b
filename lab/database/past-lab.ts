// The lab as it was: the settings that held at an instant, with the charges and patterns of then. A replay judges the past
// by them, as it was judged when it happened.

import type { EpochMillis } from '../../wax/units.ts';
import type { Charge } from '../charge.ts';
import type { Lab, Probe } from '../lab.ts';
import type { Pattern } from '../pattern.ts';
import type { SettingsHistory } from './settings-history.ts';

/** The same value at every instant between two changes. */
export type LabOverTime = (at: EpochMillis) => Lab;

export const unchanging =
  (lab: Lab): LabOverTime =>
  () =>
    lab;

const indexed = new WeakMap<Lab, ReadonlyMap<string, Probe>>();

export function probesById(lab: Lab): ReadonlyMap<string, Probe> {
  const index = indexed.get(lab) ?? new Map(lab.probes.map((probe) => [probe.id, probe]));
  indexed.set(lab, index);
  return index;
}

export interface PastParts {
  readonly history: Pick<SettingsHistory, 'labAt' | 'changedAt'>;
  /** Ended ones too. */
  readonly charges: readonly Charge[];
  readonly patterns: readonly Pattern[];
}

export function pastLab({ history, charges, patterns }: PastParts): LabOverTime {
  const changes = [
    ...history.changedAt(),
    ...charges.flatMap(({ startedAt, endedAt, topUps }) => [
      ...[startedAt, endedAt ?? startedAt, ...topUps.map(({ at }) => at)].map(Date.parse),
    ]),
    ...patterns.flatMap(instantsOf),
  ].sort((a, b) => a - b);
  return rememberLabs(changes, (at) => ({
    ...history.labAt(at),
    charges: charges.flatMap((charge) => chargeAt(charge, at)),
    patterns: patterns
      .flatMap((pattern) => patternAt(pattern, at))
      .toSorted((a, b) => Date.parse(a.madeAt) - Date.parse(b.madeAt) || (a.id < b.id ? -1 : 1)),
  }));
}

/** What `change` makes of the lab of each instant. */
export function changeOverTime(labAt: LabOverTime, change: (lab: Lab) => Lab): LabOverTime {
  let newest: { readonly from: Lab; readonly to: Lab } | null = null;
  return (at) => {
    const from = labAt(at);
    if (newest?.from !== from) newest = { from, to: change(from) };
    return newest.to;
  };
}

/** Stations, probes, site and wax values of `described` all the while, with the charges and patterns of each instant. */
export const withPastOf = (described: Lab, past: LabOverTime): LabOverTime =>
  changeOverTime(past, ({ charges, patterns }) => ({ ...described, charges, patterns }));

/** @param changes oldest first */
function rememberLabs(changes: readonly number[], labAt: LabOverTime): LabOverTime {
  let newest: { readonly from: number; readonly to: number; readonly lab: Lab } | null = null;
  return (at) => {
    if (newest === null || at < newest.from || at >= newest.to) {
      const next = changes.findIndex((change) => change > at);
      newest = {
        from: (next === -1 ? changes.at(-1) : changes[next - 1]) ?? Number.NEGATIVE_INFINITY,
        to: changes[next] ?? Number.POSITIVE_INFINITY,
        lab: labAt(at),
      };
    }
    return newest.lab;
  };
}

const isBy = (instant: string, at: EpochMillis): boolean => Date.parse(instant) <= at;

function chargeAt(charge: Charge, at: EpochMillis): readonly Charge[] {
  const { startedAt, endedAt, topUps } = charge;
  if (!isBy(startedAt, at) || (endedAt !== null && isBy(endedAt, at))) return [];
  return [{ ...charge, endedAt: null, topUps: topUps.filter((topUp) => isBy(topUp.at, at)) }];
}

const instantsOf = ({ madeAt, fate, stays, acts = [] }: Pattern): readonly number[] =>
  [
    madeAt,
    fate?.at ?? madeAt,
    ...stays.flatMap(({ from, to }) => [from, to ?? from]),
    ...acts.map(({ recordedAt }) => recordedAt),
  ].map(Date.parse);

function patternAt(pattern: Pattern, at: EpochMillis): readonly Pattern[] {
  const { madeAt, fate, stays, acts } = pattern;
  if (!isBy(madeAt, at) || (fate !== null && isBy(fate.at, at))) return [];
  return [
    {
      ...pattern,
      fate: null,
      stays: stays
        .filter(({ from }) => isBy(from, at))
        .map((stay) => (stay.to === null || isBy(stay.to, at) ? stay : { ...stay, to: null })),
      ...(acts !== undefined && { acts: acts.filter(({ recordedAt }) => isBy(recordedAt, at)) }),
    },
  ];
}
