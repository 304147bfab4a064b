import { describe, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import type { Probe } from '../lab.ts';
import { certificates } from './probe-certificates.ts';
import { probeVersionAt, probeStays } from './probe-stays.ts';
import type { ProbeVersion } from '../database/settings-history.ts';

const probe = (id: string, station: string | null, more: Partial<Probe> = {}): Probe => ({
  id,
  station,
  gateway: 'gw',
  correction_celsius: 0,
  uncertainty_celsius: 0.5,
  ...more,
});
const period = (from: number, to: number, described: Probe) => ({
  from: epochMillis(from),
  to: epochMillis(to),
  probe: described,
});
const version = (from: number, described: Probe | null): ProbeVersion => ({
  from: epochMillis(from),
  probe: described,
});

describe('the stays of probes', () => {
  it('end where a probe moves on, and a change of its calibration ends none', () => {
    const periods = [
      period(100, 200, probe('a', 'pot')),
      period(200, 300, probe('a', 'pot', { correction_celsius: 0.4 })),
      period(300, 400, probe('a', 'bath')),
      period(400, 500, probe('a', null)),
      period(500, 600, probe('a', 'bath')),
      period(100, 600, probe('b', 'bath')),
    ];
    expect(probeStays(periods)).toEqual([
      { probe: 'a', station: 'pot', from: 100, to: 300 },
      { probe: 'a', station: 'bath', from: 300, to: 400 },
      { probe: 'a', station: 'bath', from: 500, to: 600 },
      { probe: 'b', station: 'bath', from: 100, to: 600 },
    ]);
  });
});

it('a probe is described as by the last version before the instant', () => {
  const versions = [
    version(100, probe('a', null)),
    version(200, probe('a', null, { correction_celsius: 1 })),
  ];
  expect([50, 100, 199, 200].map((at) => probeVersionAt(versions, at)?.correction_celsius)).toEqual([
    0, 0, 0, 1,
  ]);
  expect(probeVersionAt([], 5)).toBeNull();
});

describe('the certificates of a probe', () => {
  const curve = {
    day: '2026-06-02',
    reference: 'Reference 7',
    points: [
      { reading_celsius: 40, reference_celsius: 39.5 },
      { reading_celsius: 60, reference_celsius: 59 },
    ],
    reference_uncertainty_celsius: 0.1,
  };

  it('hold how far off its readings were found and left, newest first', () => {
    const versions = [
      version(100, probe('a', 'pot', { correction_celsius: 0.2 })),
      version(200, probe('a', 'pot', { calibration: curve, calibrationDue: '2027-06-02' })),
    ];
    const [newest, first] = certificates(versions);
    expect(newest).toMatchObject({
      at: 200,
      day: '2026-06-02',
      reference: 'Reference 7',
      due: '2027-06-02',
      correctionBefore_celsius: 0.2,
      correctionAfter_celsius: null,
    });
    expect(newest?.points.map(({ foundError_celsius }) => foundError_celsius)).toEqual([
      expect.closeTo(0.7, 6),
      expect.closeTo(1.2, 6),
    ]);
    for (const { leftError_celsius } of newest?.points ?? []) expect(leftError_celsius).toBeCloseTo(0, 6);
    expect(first).toMatchObject({ at: 100, correctionBefore_celsius: 0, correctionAfter_celsius: 0.2 });
  });

  it('are none for a probe that only changed its place', () => {
    const versions = [version(100, probe('a', 'pot')), version(200, probe('a', 'bath'))];
    expect(certificates(versions)).toEqual([]);
  });
});
