// A probe that is passed over because its rules drew bounds must be one of which none holds: each reading of probes that
// leap, scatter, stand still and fall silent is evaluated by all of its rules beside what the watch did.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { quietParts } from '../../alerts/watch/engine/state/draft.ts';
import { silentProbe } from '../../alerts/watch/engine/findings/evaluate-probe.ts';
import { labPlan } from '../../alerts/watch/engine/state/lab-plan.ts';
import { isProbeQuiet } from '../../alerts/watch/engine/state/quiet-probe.ts';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import { potLab, readingOf } from '../rehearsal.ts';

const BASE_CELSIUS = 75;

const stretch = fc.record({
  readings: fc.integer({ min: 1, max: 60 }),
  /** Kelvins: of a reading beside the one before, and of all of them beside those of the stretch before. */
  noise: fc.constantFrom(0, 0, 0.05, 0.3, 2),
  leap: fc.constantFrom(0, 0, 0, 12, -12),
  /** One reading leaps away and back. */
  spike: fc.constantFrom(0, 0, 40),
  /** An hour apart, the same value for a day and a half is a fault. */
  everySeconds: fc.constantFrom(5, 5, 3600),
  pauseSeconds: fc.constantFrom(0, 0, 0, 400, 100 * 3600),
});

describe('a probe whose rules drew bounds', () => {
  it('is passed over at most readings, and at none at which one of its rules holds', () => {
    let [passed, all] = [0, 0];
    const held = new Set<string>();
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 12 }), (stretches) => {
        const lab = potLab();
        const plan = labPlan(lab).probes.get('p1');
        if (plan === undefined) throw new Error('the pot has no probe p1');
        let state = waxWatch.initial();
        let [second, base] = [0, BASE_CELSIUS];
        for (const { readings, noise, leap, spike, everySeconds, pauseSeconds } of stretches) {
          second += pauseSeconds;
          base += leap;
          for (let index = 0; index < readings; index += 1) {
            second += everySeconds;
            const scatter = index % 2 === 0 ? noise : -noise;
            const value = base + scatter + (index === Math.floor(readings / 2) ? spike : 0);
            state = waxWatch.advance(state, [readingOf('p1', second, value)], lab).state;
            const memory = state[plan.key];
            if (memory === undefined) continue;
            const { at, conditions, receivedAt } = memory;
            const isHot = state[plan.station.key]?.activity?.kind === 'hot';
            const input = silentProbe(plan, memory, at, receivedAt, isHot);
            const holding = plan.station.probeRules
              .filter(({ rule, values }) => typeof rule.evaluate(input, values, false) !== 'string')
              .map(({ rule }) => rule.kind);
            expect(holding.filter((kind) => conditions[kind] === undefined)).toEqual([]);
            all += 1;
            for (const kind of holding) held.add(kind);
            if (isProbeQuiet(quietParts(state, labPlan(lab)).probes[plan.index], memory, at)) {
              passed += 1;
              expect(holding).toEqual([]);
            }
          }
        }
      }),
      { numRuns: 150, seed: 5 },
    );
    expect([...held].sort()).toEqual(['probe-jump', 'probe-loose', 'probe-noisy', 'probe-stuck']);
    expect(passed / all).toBeGreaterThan(0.3);
  });
});
