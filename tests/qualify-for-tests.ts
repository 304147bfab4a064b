// A lab of one shelf whose readings are qualified, for tests of the steps of qualifying.

import { expect } from 'vitest';
import type { Entry } from '../lab/entry.ts';
import type { Lab, Probe } from '../lab/lab.ts';
import { celsius, epochMillis } from '../wax/units.ts';
import type { QualifyPart, QualifyState } from '../collector/qualify/probe-record.ts';
import { qualify } from '../collector/qualify/qualify.ts';

/** The step on a copy, so that the state before stays as it was. */
export const qualifyStep = (before: QualifyState, entry: Entry, lab: Lab) => {
  const state = { ...before };
  return { ...qualify(state, entry, lab, () => null), state };
};
const START = Date.UTC(2026, 5, 1, 8);
export const at = (seconds: number) => epochMillis(START + seconds * 1000);
const closed = [] as const;
export const labWith = (...probes: readonly Probe[]): Lab => ({
  site: {
    id: 'lab-1',
    name: 'Lab',
    timeZone: 'Europe/Berlin',
    workingHours: {
      mon: closed,
      tue: closed,
      wed: closed,
      thu: closed,
      fri: closed,
      sat: closed,
      sun: closed,
    },
    holidays: [],
  },
  stations: [],
  probes,
  charges: [],
  patterns: [],
  people: [],
  waxOverrides: {},
});
export const probe = (more: Partial<Probe> = {}): Probe => ({
  id: 'pot-1',
  gateway: 'gw-1',
  station: null,
  correction_celsius: 0,
  uncertainty_celsius: 0.5,
  ...more,
});
export const reading = (seconds: number, value: number, gateway = 'gw-1', measured = seconds): Entry => ({
  kind: 'readings',
  receivedAt: at(seconds),
  gateway,
  readings: [{ probe: 'pot-1', at: at(measured), celsius: celsius(value), quality: 'good' }],
});
export const said = (seconds: number, online: boolean, gateway = 'gw-1'): Entry => ({
  kind: 'gateway',
  receivedAt: at(seconds),
  gateway,
  online,
});
export const run = (lab: Lab, ...entries: readonly Entry[]) => {
  let state: QualifyState = {};
  const outcomes: string[] = [];
  for (const entry of entries) {
    const step = qualifyStep(state, entry, lab);
    for (const part of Object.keys(step.state) as QualifyPart[])
      expect(step.changedParts.includes(part)).toBe(step.state[part] !== state[part]);
    // Parts are persisted, so what JSON cannot carry must not matter.
    state = JSON.parse(JSON.stringify(step.state)) as QualifyState;
    if (entry.kind !== 'readings') continue;
    const [qualified] = step.entry?.kind === 'readings' ? step.entry.readings : [];
    outcomes.push(qualified === undefined ? (step.rejections[0]?.code ?? 'nothing') : qualified.quality);
  }
  return { outcomes, state };
};
export const outcomes = (...entries: readonly Entry[]) => run(labWith(), ...entries).outcomes;
