// Faults of the table are seen by the watch as it ships, on seeds that stay the same.

import { describe, expect, it } from 'vitest';
import type { LabelledCase } from '../../simulators/cases/case.ts';
import { makeCase } from '../../simulators/cases/make-case.ts';
import { judgeCase } from './judge-case.ts';

/** Faults that are tried here, each with its seed; the others are judged by the whole bench alone. */
const SEEDS = [
  ['stuck_on', 1],
  ['set_too_high', 1],
  ['relay_chatter', 1],
  ['heater_dead', 1],
  ['element_weak', 1],
  ['running_low', 7],
  ['forgotten_overnight', 1],
  ['charge_cooked', 1],
  ['annealer_uneven', 1],
  ['sun_shelf', 1],
  ['door_ajar', 1],
  ['ac_swing', 1],
  ['probe_stuck', 1],
  ['probe_swap', 1],
  ['gateway_silent', 1],
] as const;
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

describe('the watch as it ships', () => {
  it.each(SEEDS)(
    'sees %s of seed %i before its harm, and names a right cause',
    async (fault, seed) => {
      const { score } = await judgeCase(atItsStations(makeCase(fault, seed)));
      const harmful = score.faults.filter(({ harm }) => harm !== null);
      for (const scored of harmful) expect(scored).toMatchObject({ outcome: 'found', isNotified: true });
      expect(score.faults.some(({ isRightCause }) => isRightCause === true)).toBe(true);
    },
    TIMEOUT_MILLIS,
  );
});
