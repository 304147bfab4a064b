// Labs of any size in each state that a wall can be in, with names as long as those of a real lab.

import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import type { LabForTests } from '../lab-for-tests.ts';

export const WALL_STATES = [
  'calm',
  'read each minute',
  'alarm',
  'many alarms',
  'acknowledged',
  'was',
  'silent',
  'never measured',
  'line lost',
] as const;
export type WallState = (typeof WALL_STATES)[number];

const NAMES = [
  'Melting pot crowns, bench',
  'Dipping pot',
  'Annealer',
  'Pattern cabinet by the window, row',
  'Water bath',
  'Wachsmodellationsschrank',
] as const;
const KINDS = ['melt-pot', 'dip-pot', 'annealer', 'cabinet', 'water-bath', 'cabinet'] as const;
/** Those with the longest words, and those of heat. */
const RULES: readonly Alarm['rule'][] = [
  'over-ceiling',
  'heading-over',
  'fire-risk',
  'thermostat-drift',
  'left-on',
  'runaway',
  'outside-window',
  'heat-dose-high',
];

const stationIds = ({ running }: LabForTests): readonly string[] =>
  running.lab().stations.map(({ id }) => id);

/** Exactly `count` stations, all measured just now. */
const fill = (lab: LabForTests, count: number): void => {
  const { repository } = lab.running;
  for (const id of stationIds(lab).slice(count)) repository.removeStation(id);
  for (let index = stationIds(lab).length; index < count; index += 1)
    repository.saveStation({
      id: `place-${index}`,
      name: `${NAMES[index % NAMES.length] ?? 'Place'} ${index}`,
      kind: KINDS[index % KINDS.length] ?? 'room',
      wax: 'inlay-type-2',
    });
};

const measure = (lab: LabForTests, station: string, value: number): void =>
  lab.stand({
    station,
    celsius: celsius(value),
    at: epochMillis(lab.running.now()),
    condition: 'in-window',
    celsiusPerHour: 30,
    doseShare: 0.42,
    doseEquivalentHours: 50,
  });

const SILENT_SECONDS = 3600;
const SINCE_READ_SECONDS = 45;

/** Brings a lab of `count` stations into the state; the lost line is the caller's to cut. */
export const standAs = (lab: LabForTests, state: WallState, count: number): void => {
  fill(lab, count);
  const ids = stationIds(lab);
  const raise = (index: number): Alarm =>
    lab.raise(RULES[index % RULES.length] ?? 'over-ceiling', ids[index % ids.length] ?? '');
  const isUnmeasured = (index: number) => state === 'never measured' && index % 3 === 0;
  ids.forEach((id, index) => {
    if (!isUnmeasured(index)) measure(lab, id, 71.4 + index);
  });
  if (state === 'read each minute' || state === 'line lost') lab.pass(SINCE_READ_SECONDS);
  if (state === 'silent') {
    lab.pass(SILENT_SECONDS);
    ids.forEach((id, index) => {
      if (index % 3 !== 0) measure(lab, id, 71.4 + index);
    });
  }
  if (state === 'alarm' || state === 'line lost') {
    measure(lab, ids[0] ?? '', 104.3);
    raise(0);
    if (count > 3) raise(3);
    lab.raise('gateway-lost', 'gw-1');
  }
  if (state === 'many alarms') for (let index = 0; index < Math.min(count, 17); index += 1) raise(index);
  if (state === 'acknowledged' || state === 'was') {
    const alarm = raise(0);
    lab.pass(60);
    for (const id of ids) measure(lab, id, 22.1);
    if (state === 'acknowledged')
      lab.step(alarm.id, {
        type: 'act',
        at: lab.running.now(),
        act: { type: 'acknowledge', alarm: alarm.id, by: 'Mara Lindqvist' },
      });
    else lab.step(alarm.id, { type: 'ends', at: lab.running.now() });
  }
};
