import fc from 'fast-check';
import { expect, it } from 'vitest';
import { probeCorrected, probeUncorrected } from './probe-correction.ts';

it('what is stored traces back to what the probe measured, to a millionth of a degree', () => {
  const calibration = {
    day: '2026-06-01',
    points: [
      { reading_celsius: 20, reference_celsius: 20.3 },
      { reading_celsius: 60, reference_celsius: 59.2 },
      { reading_celsius: 90, reference_celsius: 90.9 },
    ],
    reference_uncertainty_celsius: 0.1,
  };
  fc.assert(
    fc.property(fc.double({ min: -100, max: 1300, noNaN: true }), (raw) => {
      for (const probe of [{ correction_celsius: -0.4 }, { correction_celsius: 0, calibration }])
        expect(Math.abs(probeUncorrected(probe, probeCorrected(probe, raw)) - raw)).toBeLessThan(1e-6);
    }),
  );
});
