// A rule that is not evaluated because it drew bounds for itself must not have held: each reading of simulated labs is
// evaluated by all rules of its station beside what the watch did.

import { describe, expect, it } from 'vitest';
import { labPlan, type StationPlan } from '../../alerts/watch/engine/state/lab-plan.ts';
import type { WatchState } from '../../alerts/watch/engine/state/memory.ts';
import { quietParts } from '../../alerts/watch/engine/state/draft.ts';
import { dueRules } from '../../alerts/watch/engine/state/quiet-station.ts';
import { stationInput } from '../../alerts/watch/engine/findings/station-input.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import type { StationAct } from '../../lab/act.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import { makeCase } from '../../simulators/cases/make-case.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { caseLab } from '../faultbench/case-lab.ts';

const CASES = [
  ['stuck_on', 11],
  ['heater_dead', 13],
  ['load_early', 15],
  ['bath_drift', 16],
  ['door_ajar', 18],
] as const;
const MOST_READINGS = 12_000;
const ACT_EVERY = 211;

type ActAtStation = StationAct extends infer One
  ? One extends StationAct
    ? Omit<One, 'station'>
    : never
  : never;
const actsAt = (now: number): readonly ActAtStation[] => [
  { type: 'planned-off', by: 'a technician' },
  { type: 'intent', kind: 'off-today', until: epochMillis(now + 1_234_567), by: 'a technician' },
  { type: 'load-in', load: 'sticks', by: 'a technician' },
  { type: 'planned-on', by: 'a technician' },
  { type: 'topped-up', fraction: 0.3, by: 'a technician' },
  { type: 'intent-ended', kind: 'off-today', by: 'a technician' },
  { type: 'load-out', by: 'a technician' },
  { type: 'cleaned', by: 'a technician' },
];

/** Rules that would hold at the present value of the station and have no condition. */
function overlooked(state: WatchState, plan: StationPlan, lab: Lab): readonly string[] {
  const memory = state[plan.key];
  if (memory === undefined || memory.at === 0) return [];
  const input = stationInput(lab, plan, memory, state);
  return plan.rules
    .filter(({ rule, values }) => typeof rule.evaluate(input, values, false) !== 'string')
    .filter(({ rule }) => memory.conditions[rule.kind] === undefined)
    .map(({ rule }) => `${rule.kind} at ${plan.station.id}, ${new Date(memory.at).toISOString()}`);
}

describe('rules that drew bounds for themselves', () => {
  it.each(CASES)(
    'overlook nothing in the case %s of seed %i, with acts of people in between',
    (name, seed) => {
      const labelled = makeCase(name, seed);
      const { lab } = caseLab(labelled);
      const plan = labPlan(lab);
      const { readings } = labelled;
      let state = waxWatch.initial();
      let [evaluated, all, acts] = [0, 0, 0];
      const found: string[] = [];
      for (let index = 0; index < Math.min(MOST_READINGS, readings.at.length); index += 1) {
        const probe = plan.probes.get(labelled.probes[readings.probe[index] ?? 0] ?? '');
        if (probe === undefined) continue;
        const { station } = probe;
        const receivedAt = epochMillis(readings.receivedAt[index] ?? 0);
        const at = epochMillis(readings.at[index] ?? 0);
        const reading = { probe: probe.probe.id, at, celsius: celsius(readings.celsius[index] ?? 0) };
        const entries: Entry[] = [
          {
            kind: 'readings',
            receivedAt,
            gateway: probe.probe.gateway,
            readings: [{ ...reading, quality: 'good' }],
          },
        ];
        if (index % ACT_EVERY === 0) {
          const act = actsAt(receivedAt)[acts % actsAt(0).length];
          if (act !== undefined)
            entries.push({
              kind: 'act',
              receivedAt,
              act: { ...act, station: station.station.id } as StationAct,
            });
          acts += 1;
        }
        for (const entry of entries) state = waxWatch.step(state, entry, lab).state;
        found.push(...overlooked(state, station, lab));
        const memory = state[station.key];
        if (memory === undefined) continue;
        all += station.rules.length;
        evaluated +=
          dueRules(quietParts(state, plan).stations[station.index], station, memory, state)?.length ??
          station.rules.length;
      }
      expect(found).toEqual([]);
      expect(acts).toBeGreaterThan(actsAt(0).length);
      // Bounds that are left at each reading would save nothing.
      expect(evaluated / all).toBeLessThan(0.35);
    },
  );
});
