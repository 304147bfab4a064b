// How many probes that the lab does not have may wait to be claimed: of one gateway and in all, so that a gateway that
// makes up names fills neither memory nor screens. One that is silent for a month is forgotten. Pure over the state.

import type { Lab } from '../../lab/lab.ts';
import { type EpochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../../wax/units.ts';
import {
  electricalPart,
  electricalRecord,
  gatewayIds,
  gatewayRecord,
  probeIds,
  probePart,
  probeRecord,
  type QualifyPart,
  type QualifyParts,
  type QualifyState,
  seenElectrical,
  statusPart,
} from './probe-record.ts';

/** More than any gateway of the trade carries. */
export const MOST_UNCLAIMED_OF_GATEWAY = 200;
export const MOST_UNCLAIMED = 1000;
/** Gateways that are not of the lab and that sent nothing but their state. */
export const MOST_GATEWAYS = 1000;
const FORGOTTEN_MILLIS = 30 * MILLIS_PER_DAY;
const TIDY_MILLIS = MILLIS_PER_HOUR;

interface Counted {
  readonly lab: Lab;
  readonly ofGateway: Map<string, number>;
  inAll: number;
}

/** A batch has one copy of the state, so all that arrives in it costs one count. */
const counted = new WeakMap<object, Counted>();

function countOf(parts: QualifyState, lab: Lab): Counted {
  const before = counted.get(parts);
  if (before?.lab === lab) return before;
  const claimed = new Set(lab.probes.map(({ id }) => id));
  const count: Counted = { lab, ofGateway: new Map(), inAll: 0 };
  for (const id of seenIds(parts)) if (!claimed.has(id)) add(count, lastSeen(parts, id)?.gateway ?? '');
  counted.set(parts, count);
  return count;
}

/** Of probes and of bare sensors whose values cannot be converted yet. */
const seenIds = (parts: QualifyState): ReadonlySet<string> =>
  new Set([...probeIds(parts), ...seenElectrical(parts).keys()]);

function lastSeen(
  parts: QualifyState,
  id: string,
): { readonly gateway: string; readonly at: number } | undefined {
  const record = probeRecord(parts, id);
  if (record !== undefined) return { gateway: record.gateway, at: record.receivedAt };
  return electricalRecord(parts, id);
}

function add(count: Counted, gateway: string): void {
  count.inAll += 1;
  count.ofGateway.set(gateway, (count.ofGateway.get(gateway) ?? 0) + 1);
}

/** Takes a place for one more probe of the gateway; null when it got one, else the limit that is reached. */
export function takePlace(parts: QualifyState, lab: Lab, gateway: string): number | null {
  const count = countOf(parts, lab);
  if ((count.ofGateway.get(gateway) ?? 0) >= MOST_UNCLAIMED_OF_GATEWAY) return MOST_UNCLAIMED_OF_GATEWAY;
  if (count.inAll >= MOST_UNCLAIMED) return MOST_UNCLAIMED;
  add(count, gateway);
  return null;
}

/** Forgets, at most once an hour, the unclaimed probes that were silent for too long; returns the parts that changed. */
export function tidyUnclaimed(parts: QualifyParts, lab: Lab, now: EpochMillis): readonly QualifyPart[] {
  if (now - (parts.tidied?.at ?? 0) < TIDY_MILLIS) return [];
  const seen = [...seenIds(parts)];
  if (seen.length === 0) return [];
  parts.tidied = { at: now };
  const claimed = new Set(lab.probes.map(({ id }) => id));
  const silent = seen.filter(
    (id) => !claimed.has(id) && now - (lastSeen(parts, id)?.at ?? now) > FORGOTTEN_MILLIS,
  );
  return ['tidied', ...forgetProbes(parts, silent)];
}

/** One of them that sends again is new. Returns the parts that changed. */
export function forgetProbes(parts: QualifyParts, ids: readonly string[]): readonly QualifyPart[] {
  const gone = ids
    .flatMap((id): QualifyPart[] => [probePart(id), electricalPart(id), statusPart(id)])
    .filter((part) => part in parts);
  for (const part of gone) delete parts[part];
  counted.delete(parts);
  return gone;
}

/** Whether the state of a gateway may be noted: a known one always, a new one while there is room. */
export const mayNoteGateway = (parts: QualifyState, gateway: string): boolean =>
  gatewayRecord(parts, gateway) !== undefined || gatewayIds(parts).length < MOST_GATEWAYS;
