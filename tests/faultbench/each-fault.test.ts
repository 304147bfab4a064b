// Each fault of the table makes a case as it should be, and the watch as it ships sees it, on seeds that stay the same.

import { beforeAll, describe, expect, it } from 'vitest';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { FAULT_IDS, makeCase } from '../../simulators/cases/make-case.ts';
import type { FaultId } from '../../simulators/faults/all-faults.ts';
import { expectSound } from '../sound-case.ts';
import { judgeCase } from './judge-case.ts';

/** A drift, a loose contact and a short cut of the power differ much: seeds on which they last and show. */
const SEED_OF: Partial<Readonly<Record<FaultId, number>>> = {
  running_low: 7,
  probe_drift: 2,
  probe_loose: 2,
  power_cut_short: 4,
};
const SEEDS = FAULT_IDS.map((fault) => [fault, SEED_OF[fault] ?? 1] as const);
/** Harm is no part of these faults: nothing but the order of things is disturbed. */
const HARMLESS: readonly FaultId[] = ['power_cut_short', 'clock_ahead', 'clock_behind'];
const TIMEOUT_MILLIS = 600_000;

/** The case as a lab has it that watches the faulty stations alone: it takes a fraction of the time. */
function atItsStations(labelled: LabelledCase): LabelledCase {
  const faulty = new Set(labelled.truth.map(({ station }) => station));
  const stations = labelled.stations.filter(({ id }) => faulty.has(id));
  const probes = new Set(stations.flatMap((station) => station.probes.map(({ id }) => id)));
  const isWatched = labelled.probes.map((id) => probes.has(id));
  const { at, celsius, probe, receivedAt } = labelled.readings;
  const isKept = (_: number, index: number): boolean => isWatched[probe[index] ?? 0] === true;
  const readings = {
    at: at.filter(isKept),
    receivedAt: receivedAt.filter(isKept),
    probe: probe.filter(isKept),
    celsius: celsius.filter(isKept),
  };
  return { ...labelled, stations, readings };
}

/** The case of the fault whose turn it is: all of them at a time would fill the memory. */
let made: LabelledCase;

describe.each(SEEDS)('a case of %s (seed %i)', (fault, seed) => {
  beforeAll(() => {
    made = makeCase(fault, seed);
  }, TIMEOUT_MILLIS);

  it('begins within its days, harms after it began and ends after that', () => {
    expectSound(made);
    expect(made.truth.length).toBeGreaterThan(0);
    for (const spell of made.truth) {
      const [begins, ends] = [Date.parse(spell.begins), Date.parse(spell.ends)];
      expect(spell.fault).toBe(fault);
      expect(made.stations.map(({ id }) => id)).toContain(spell.station);
      expect(begins).toBeGreaterThan(made.starts);
      expect(ends).toBeGreaterThan(begins);
      expect(ends).toBeLessThanOrEqual(made.ends);
      if (spell.harm === null) continue;
      expect(Date.parse(spell.harm)).toBeGreaterThan(begins);
      expect(Date.parse(spell.harm)).toBeLessThanOrEqual(ends);
    }
    const harmed = made.truth.filter(({ harm }) => harm !== null).length;
    if (HARMLESS.includes(fault)) expect(harmed).toBe(0);
    else if (fault !== 'power_cut_long') expect(harmed).toBeGreaterThan(0);
  });

  it(
    'is seen before its harm by the watch as it ships, which names a right cause',
    async () => {
      const { score } = await judgeCase(atItsStations(made));
      const harmful = score.faults.filter(({ harm }) => harm !== null);
      for (const scored of harmful) expect(scored).toMatchObject({ outcome: 'found', isNotified: true });
      expect(score.faults.some(({ isRightCause }) => isRightCause === true)).toBe(true);
    },
    TIMEOUT_MILLIS,
  );
});
