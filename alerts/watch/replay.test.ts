import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import {
  actAt,
  dipPot,
  gatewaySays,
  labOf,
  probeOf,
  qualifyEntries,
  readingOf,
  shelf,
  tickAt,
} from '../../tests/rehearsal.ts';
import { waxWatch } from './wax-watch.ts';

const lab = labOf(
  [dipPot, shelf, { id: 'cab-1', name: 'Cabinet 1', kind: 'cabinet', wax: 'inlay-type-2' }],
  [
    probeOf('p1', 'pot-1'),
    probeOf('p2', 'pot-1', { gateway: 'g2' }),
    probeOf('s1', 'shelf-1'),
    probeOf('c1', 'cab-1', { gateway: 'g2' }),
  ],
  {
    patterns: [
      {
        id: 'w1',
        caseReference: 'case 1',
        wax: 'inlay-type-1',
        technique: 'dipped',
        length_millimetres: 40,
        tolerance_micrometres: 30,
        madeAt: '2026-03-04T07:00:00Z',
        madeBy: 'Mira',
        stays: [{ station: 'shelf-1', from: '2026-03-04T07:00:00Z', to: null }],
        fate: null,
      },
    ],
  },
);

const second = fc.integer({ min: 0, max: 20_000 });
const celsius = fc.constantFrom(20, 22, 31, 60, 90, 99, 101, 103, 160, 202);
const entry: fc.Arbitrary<Entry> = fc.oneof(
  {
    weight: 8,
    arbitrary: fc
      .tuple(fc.constantFrom('p1', 'p2', 's1', 'c1'), second, celsius, fc.constantFrom(0, 5, 4000))
      .map(([probe, at, value, late]) => readingOf(probe, at, value, { arrives: at + late })),
  },
  { weight: 2, arbitrary: second.map(tickAt) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(second, fc.constantFrom('g1', 'g2'), fc.boolean())
      .map(([at, gateway, online]) => gatewaySays(at, gateway, online)),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(second, fc.constantFrom('cleaned', 'planned-off', 'planned-on'))
      .map(([at, type]) => actAt(at, { type: type as 'cleaned', station: 'pot-1', by: 'Mira' })),
  },
);
const byArrival = fc
  .array(entry, { minLength: 1, maxLength: 120 })
  .map((entries) => entries.sort((a, b) => a.receivedAt - b.receivedAt));

const findingsAcross = (entries: readonly Entry[], cuts: readonly number[]) => {
  let state = waxWatch.initial();
  const findings: unknown[] = [];
  const changes: unknown[] = [];
  const edges = [...new Set(cuts.map((cut) => cut % (entries.length + 1)))].sort((a, b) => a - b);
  for (const [index, edge] of [0, ...edges].entries()) {
    const batch = entries.slice(edge, [...edges, entries.length][index]);
    // Through JSON, as persistence would have it.
    const step = waxWatch.stepAll(JSON.parse(JSON.stringify(state)), batch, lab);
    const changed = new Set<string>(step.changedParts);
    const unchanged = (whole: object) => Object.entries(whole).filter(([key]) => !changed.has(key));
    expect(unchanged(step.state)).toEqual(unchanged(state));
    state = step.state;
    findings.push(...step.findings);
    changes.push(...step.alarmChanges);
  }
  return {
    state: JSON.stringify(state),
    findings: JSON.stringify(findings),
    changes: JSON.stringify(changes),
  };
};

describe('a replay', () => {
  it('gives the same states, findings and alarms byte for byte, however the entries are cut into batches', () => {
    fc.assert(
      fc.property(byArrival, fc.array(fc.nat(), { maxLength: 12 }), (entries, cuts) => {
        expect(findingsAcross(entries, cuts)).toEqual(findingsAcross(entries, []));
      }),
      {
        numRuns: 150,
        // A pattern is judged, and then a reading of the same instant comes.
        examples: [[[tickAt(0), readingOf('s1', 0, 20, { arrives: 4000 })], [1]]],
      },
    );
  });

  it('comes to the same when its state is written in place', () => {
    fc.assert(
      fc.property(byArrival, fc.integer({ min: 1, max: 20 }), (entries, length) => {
        let state = waxWatch.initial();
        const changes: unknown[] = [];
        for (let from = 0; from < entries.length; from += length) {
          const step = waxWatch.advance(state, entries.slice(from, from + length), lab);
          state = step.state;
          changes.push(...step.alarmChanges);
        }
        const copied = findingsAcross(entries, []);
        expect(JSON.stringify(state)).toBe(copied.state);
        expect(JSON.stringify(changes)).toBe(copied.changes);
      }),
      { numRuns: 100 },
    );
  });

  it('is not disturbed by a message that is delivered twice', () => {
    fc.assert(
      fc.property(byArrival, (entries) => {
        const twice = entries.flatMap((delivered): readonly Entry[] =>
          delivered.kind === 'readings' ? [delivered, delivered] : [delivered],
        );
        expect(findingsAcross(qualifyEntries(twice, lab), [])).toEqual(
          findingsAcross(qualifyEntries(entries, lab), []),
        );
      }),
      { numRuns: 150 },
    );
  });
});
