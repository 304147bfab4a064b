// The versions of one setting, and which of them held in a span. Pure.

import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import type { Probe } from '../lab.ts';

export interface Version<T> {
  readonly from: EpochMillis;
  /** Null: removed. */
  readonly body: T | null;
}

interface Held<T> {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
  readonly body: T;
}

/**
 * What held in [from, to): the version that stood at the start, then each that followed. The oldest one stands in for
 * the time before it, so that imported readings of last year have a limit to be compared with.
 */
export const heldIn = <T>(
  versions: readonly Version<T>[],
  from: EpochMillis,
  to: EpochMillis,
): readonly Held<T>[] => {
  // Of several versions of one instant the last one held.
  const lasting = versions.filter(({ from: began }, index) => versions[index + 1]?.from !== began);
  return lasting.flatMap(({ from: began, body }, index) => {
    const start = index === 0 ? from : epochMillis(Math.max(from, began));
    const end = epochMillis(Math.min(to, lasting[index + 1]?.from ?? to));
    return body === null || start >= end ? [] : [{ from: start, to: end, body }];
  });
};

type ProbeVersions = readonly Version<Probe>[];

export interface ProbeIndex {
  readonly all: readonly ProbeVersions[];
  /** When the first probe of a station was described. */
  readonly beganAt: ReadonlyMap<string, EpochMillis>;
  /** Those that were ever there. */
  readonly atStation: ReadonlyMap<string, readonly ProbeVersions[]>;
}

export const indexOf = (all: readonly ProbeVersions[]): ProbeIndex => {
  const beganAt = new Map<string, EpochMillis>();
  const atStation = new Map<string, ProbeVersions[]>();
  for (const versions of all) {
    const [first] = versions;
    const place = first?.body?.station ?? null;
    if (first !== undefined && place !== null)
      beganAt.set(place, epochMillis(Math.min(first.from, beganAt.get(place) ?? first.from)));
    for (const station of new Set(versions.flatMap(({ body }) => body?.station ?? []))) {
      const there = atStation.get(station);
      if (there === undefined) atStation.set(station, [versions]);
      else there.push(versions);
    }
  }
  return { all, beganAt, atStation };
};
