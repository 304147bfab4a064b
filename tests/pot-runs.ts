// A dip pot whose readings are run through the watch, for tests of the rules of heat.

import type { Entry } from '../lab/entry.ts';
import type { Lab } from '../lab/lab.ts';
import { potLab, readingOf } from './rehearsal.ts';
import { alarmStateCode } from '../alerts/watch/life/alarm-state.ts';
import { waxWatch } from '../alerts/watch/wax-watch.ts';

export const HOUR = 3600;
export const every = (
  step: number,
  from: number,
  to: number,
  celsius: (second: number) => number,
  probe = 'p1',
): Entry[] => {
  const entries: Entry[] = [];
  for (let second = from; second <= to; second += step)
    entries.push(readingOf(probe, second, celsius(second)));
  return entries;
};
export const run = (entries: readonly Entry[], lab: Lab = potLab()) =>
  waxWatch.stepAll(waxWatch.initial(), entries, lab);
export const open = (entries: readonly Entry[], lab?: Lab) =>
  waxWatch.openAlarms(run(entries, lab).state).map((alarm) => `${alarm.rule} ${alarmStateCode(alarm)}`);
export const begun = (entries: readonly Entry[], lab?: Lab) =>
  run(entries, lab)
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ rule }) => rule);
