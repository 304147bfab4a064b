// A place whose readings are run through the watch, for tests of storage and of measuring.

import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import type { StationKind } from '../lab/station-kinds.ts';
import { begun as begunIn, every, HOUR } from './pot-runs.ts';
import { labOf, probeOf } from './rehearsal.ts';
import { alarmStateCode } from '../alerts/watch/life/alarm-state.ts';
import { waxWatch } from '../alerts/watch/wax-watch.ts';

export { every, HOUR };
export const place = (kind: StationKind, more: Partial<Lab> = {}, probes = 1): Lab =>
  labOf(
    [{ id: 'place', name: 'Place', kind, wax: 'inlay-type-1' }],
    Array.from({ length: probes }, (_, index) => probeOf(`p${index + 1}`, 'place')),
    { ...more, waxOverrides: { 'inlay-type-1': { storageMax: 25 }, ...more.waxOverrides } },
  );
export const shelf = place('shelf');
export const run = (entries: readonly Entry[], lab: Lab = shelf) =>
  waxWatch.stepAll(waxWatch.initial(), entries, lab);
export const begun = (entries: readonly Entry[], lab: Lab = shelf) => begunIn(entries, lab);
export const open = (entries: readonly Entry[], lab?: Lab) =>
  waxWatch
    .openAlarms(run(entries, lab).state)
    .map((alarm) => `${alarm.subject} ${alarm.rule} ${alarmStateCode(alarm)}`)
    .sort();
