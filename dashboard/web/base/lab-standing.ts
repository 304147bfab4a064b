// What may be stated of the lab as a whole. That all is in order needs live data from every station and no alarm that is
// open in any way; whatever is not known goes before what is well. Pure.

import type { AlarmView } from '../../api/schemas.ts';
import { isPast, isSuppressed, needsHands } from './face.ts';

export type StationData = 'live' | 'silent' | 'never';

export interface LabStanding {
  /** The first of these that holds. */
  readonly kind:
    | 'lost'
    | 'no-stations'
    | 'alarms'
    | 'without-data'
    | 'part-failing'
    | 'acknowledged'
    | 'past'
    | 'shelved'
    | 'in-order';
  /** So now and acknowledged by nobody. */
  readonly alarms: number;
  /** So now and acknowledged. */
  readonly acknowledged: number;
  /** Over, and not yet confirmed or reset. */
  readonly past: number;
  /** Shelved, out of service or suppressed. */
  readonly shelved: number;
  readonly silent: number;
  readonly never: number;
  readonly isPartFailing: boolean;
}

interface LabSeen {
  readonly isLineLost: boolean;
  readonly isPartFailing: boolean;
  readonly stations: readonly StationData[];
  /** Those that are not over. */
  readonly alarms: readonly AlarmView[];
}

/** @example labStanding({ isLineLost: false, isPartFailing: false, stations: ['live', 'never'], alarms: [] }).kind // 'without-data' */
export const labStanding = ({ isLineLost, isPartFailing, stations, alarms }: LabSeen): LabStanding => {
  const handy = alarms.filter(needsHands);
  const present = handy.filter((alarm) => !isPast(alarm));
  const counts = {
    alarms: present.filter(({ acknowledged }) => !acknowledged).length,
    acknowledged: present.filter(({ acknowledged }) => acknowledged).length,
    past: handy.length - present.length,
    shelved: alarms.filter(isSuppressed).length,
    silent: stations.filter((data) => data === 'silent').length,
    never: stations.filter((data) => data === 'never').length,
  };
  const kinds: readonly (readonly [LabStanding['kind'], boolean])[] = [
    ['lost', isLineLost],
    ['no-stations', stations.length === 0],
    ['alarms', counts.alarms > 0],
    ['without-data', counts.silent + counts.never > 0],
    ['part-failing', isPartFailing],
    ['acknowledged', counts.acknowledged > 0],
    ['past', counts.past > 0],
    ['shelved', counts.shelved > 0],
  ];
  return { kind: kinds.find(([, holds]) => holds)?.[0] ?? 'in-order', ...counts, isPartFailing };
};
