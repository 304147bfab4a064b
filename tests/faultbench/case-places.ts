// Where in a lab a fault is and where an alarm is, so that the two can be brought together.

import type { CaseStation } from '../../simulators/cases/case.ts';
import type { Beginning } from './run-case.ts';

export interface Places {
  readonly stations: readonly string[];
  /** Whether the alarm counts for a fault of this kind at this place. */
  readonly matches: (fault: Fault, alarm: Subject) => boolean;
  /** Whether the fault may touch what the alarm is about, so that the alarm is no nuisance. */
  readonly touches: (fault: Fault, alarm: Subject) => boolean;
  /** Stations that are not in good order while the fault lasts. */
  readonly touched: (fault: Fault) => readonly string[];
}

/** `station` as truth.json names it: a station, or a gateway or probe where the fault is one of theirs. */
type Fault = { readonly station: string; readonly fault: string };
type Subject = Pick<Beginning, 'subject' | 'subjectKind'>;

type Reach = 'station' | 'probe' | 'gateway' | 'lab';

/** How far a fault reaches beyond the station that truth.json names. */
const reachOf = (fault: string): Reach => {
  if (fault.startsWith('power_')) return 'lab';
  if (fault.startsWith('gateway_') || fault.startsWith('clock_')) return 'gateway';
  return fault.startsWith('probe_') ? 'probe' : 'station';
};

/** @param stationOfPattern where each pattern of the lab lies */
export function casePlaces(
  stations: readonly Pick<CaseStation, 'id' | 'probes'>[],
  stationOfPattern: ReadonlyMap<string, string>,
): Places {
  const ids = stations.map(({ id }) => id);
  const stationOfProbe = new Map(
    stations.flatMap(({ id, probes }) => probes.map((probe) => [probe.id, id] as const)),
  );
  const gatewaysOf = new Map(
    stations.map(({ id, probes }) => [id, new Set(probes.map(({ gateway }) => gateway))]),
  );
  const behind = (gateway: string): readonly string[] =>
    ids.filter((id) => gatewaysOf.get(id)?.has(gateway) === true);
  const stationNamed = (name: string): string | undefined =>
    gatewaysOf.has(name) ? name : stationOfProbe.get(name);
  const gatewaysNamed = (name: string): ReadonlySet<string> => {
    const station = stationNamed(name);
    return (station === undefined ? undefined : gatewaysOf.get(station)) ?? new Set([name]);
  };
  const stationOf = ({ subject, subjectKind }: Subject): string | undefined => {
    if (subjectKind === 'station') return subject;
    return subjectKind === 'probe' ? stationOfProbe.get(subject) : stationOfPattern.get(subject);
  };
  const touched = ({ station: name, fault }: Fault): readonly string[] => {
    const reach = reachOf(fault);
    if (reach === 'lab') return ids;
    if (reach === 'gateway') return [...new Set([...gatewaysNamed(name)].flatMap(behind))];
    const station = stationNamed(name);
    return station === undefined ? [] : [station];
  };
  const isOfGateway = ({ station: name, fault }: Fault, { subject, subjectKind }: Subject): boolean => {
    const reach = reachOf(fault);
    if (subjectKind === 'site') return reach === 'lab' || reach === 'gateway';
    if (subjectKind !== 'gateway' || reach === 'station') return false;
    return reach === 'lab' || gatewaysNamed(name).has(subject);
  };
  return {
    stations: ids,
    touched,
    matches: (fault, alarm) =>
      isOfGateway(fault, alarm) ||
      (stationNamed(fault.station) === undefined
        ? touched(fault).includes(stationOf(alarm) ?? '')
        : stationOf(alarm) === stationNamed(fault.station)),
    touches: (fault, alarm) => isOfGateway(fault, alarm) || touched(fault).includes(stationOf(alarm) ?? ''),
  };
}
