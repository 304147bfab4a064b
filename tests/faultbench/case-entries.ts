// The entries of a case in order of arrival, a few hundred at a time: readings, passing time, and what a person does in
// between. Readings become entries only when their turn comes.

import type { Act } from '../../lab/act.ts';
import { type Entry, TICK_MILLIS } from '../../lab/entry.ts';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { epochMillis } from '../../wax/units.ts';

const MOST_ENTRIES = 400;

export interface CaseEntries {
  /** Empty when the case is over. */
  readonly next: () => readonly Entry[];
  /** At an instant after the batch that was handed out last. */
  readonly act: (at: number, act: Act) => void;
}

/**
 * @param answerMillis how soon after an entry an act may follow it; a batch spans less, so that the act finds its place
 * @param toEntries what a message with one reading becomes
 */
export function caseEntries(
  { starts, ends, stations, probes, readings }: LabelledCase,
  answerMillis: number,
  toEntries: (
    gateway: string,
    probe: string,
    at: number,
    receivedAt: number,
    celsius: number,
  ) => readonly Entry[],
): CaseEntries {
  const gatewayOf = new Map(
    stations.flatMap((station) => station.probes.map(({ id, gateway }) => [id, gateway] as const)),
  );
  const gateways = probes.map((id) => gatewayOf.get(id) ?? '');
  const acts: { readonly at: number; readonly act: Act }[] = [];
  let row = 0;
  let tickAt = starts;

  const reading = (): readonly Entry[] => {
    const probe = readings.probe[row] ?? 0;
    const receivedAt = readings.receivedAt[row] ?? 0;
    const entries = toEntries(
      gateways[probe] ?? '',
      probes[probe] ?? '',
      readings.at[row] ?? 0,
      receivedAt,
      readings.celsius[row] ?? 0,
    );
    row += 1;
    return entries;
  };

  const next = (): readonly Entry[] => {
    const batch: Entry[] = [];
    let first: number | null = null;
    while (batch.length < MOST_ENTRIES) {
      const readAt = readings.receivedAt[row] ?? Number.POSITIVE_INFINITY;
      const actAt = acts[0]?.at ?? Number.POSITIVE_INFINITY;
      const at = Math.min(readAt, actAt, tickAt);
      if (at > ends || (first !== null && at - first >= answerMillis)) break;
      first ??= at;
      if (at === actAt) {
        const due = acts.shift();
        if (due !== undefined) batch.push({ kind: 'act', receivedAt: epochMillis(at), act: due.act });
      } else if (at === tickAt) {
        batch.push({ kind: 'tick', receivedAt: epochMillis(at) });
        tickAt += TICK_MILLIS;
      } else batch.push(...reading());
    }
    return batch;
  };

  return {
    next,
    act: (at, act) => {
      const before = acts.findIndex((planned) => planned.at > at);
      acts.splice(before < 0 ? acts.length : before, 0, { at, act });
    },
  };
}
