import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import type { StationKind } from '../../lab/station-kinds.ts';
import {
  qualifyStep,
  at,
  labWith,
  probe,
  reading,
  said,
  run,
  outcomes,
} from '../../tests/qualify-for-tests.ts';

describe('correction and plausibility', () => {
  it('follows the curve of a calibration at several temperatures', () => {
    const calibration = {
      day: '2031-02-03',
      points: [
        { reading_celsius: 0, reference_celsius: 0.4 },
        { reading_celsius: 100, reference_celsius: 99 },
      ],
      reference_uncertainty_celsius: 0.1,
    };
    const step = qualifyStep({}, reading(0, 50), labWith(probe({ calibration })));
    expect(step.entry).toMatchObject({ readings: [{ celsius: 49.7 }] });
  });
  it('adds the correction of the last calibration', () => {
    const step = qualifyStep({}, reading(0, 60), labWith(probe({ correction_celsius: -0.75 })));
    expect(step.entry).toMatchObject({ readings: [{ celsius: 59.25, quality: 'good' }] });
  });

  it.each([
    [-40, 'good'],
    [-40.01, 'suspect'],
    [500, 'good'],
    [500.01, 'suspect'],
  ])('%d °C is %s', (value, quality) => {
    expect(outcomes(reading(0, value))).toEqual([quality]);
  });

  it.each<[StationKind, number, string]>([
    ['burnout-furnace', 500.01, 'good'],
    ['burnout-furnace', 1200, 'good'],
    ['burnout-furnace', 1200.01, 'suspect'],
    ['melt-pot', 500.01, 'suspect'],
  ])('a reading in a %s of %d °C is %s', (kind, value, quality) => {
    const lab = labWith(probe({ station: 'place' }));
    const stations = [{ id: 'place', name: 'Place', kind, wax: null }];
    expect(run({ ...lab, stations }, reading(0, value)).outcomes).toEqual([quality]);
  });

  it('passes ticks and acts through untouched', () => {
    const tick: Entry = { kind: 'tick', receivedAt: at(0) };
    expect(qualifyStep({}, tick, labWith())).toEqual({
      state: {},
      changedParts: [],
      entry: tick,
      rejections: [],
    });
  });
});

describe('85.000 °C', () => {
  it('as the first value of a probe is suspect, and the next value is good', () => {
    expect(outcomes(reading(0, 85), reading(10, 21.5))).toEqual(['suspect', 'good']);
  });

  it('as a jump that no heater makes is suspect', () => {
    expect(outcomes(reading(0, 21.5), reading(10, 85), reading(20, 21.5))).toEqual([
      'good',
      'suspect',
      'good',
    ]);
  });

  it('after a start of the gateway is suspect however slow the jump', () => {
    expect(outcomes(reading(0, 21.5), said(590, true), reading(600, 85), reading(610, 21.5))).toEqual([
      'good',
      'suspect',
      'good',
    ]);
  });

  it('that a pot reaches by heating is good', () => {
    expect(outcomes(reading(0, 84), reading(10, 84.5), reading(20, 85), reading(30, 85.5))).toEqual(
      Array(4).fill('good'),
    );
  });

  it('of a pot that was at 85 before its gateway restarted is good', () => {
    expect(outcomes(reading(0, 84.9375), said(30, true), reading(40, 85))).toEqual(['good', 'good']);
  });

  it('that is reached slowly between rare readings is good', () => {
    expect(outcomes(reading(0, 25), reading(600, 85))).toEqual(['good', 'good']);
  });

  it('that stays for five readings and two minutes is believed', () => {
    const stays = [0, 30, 60, 90, 120, 150].map((seconds) => reading(seconds, 85));
    expect(outcomes(...stays)).toEqual(['suspect', 'suspect', 'suspect', 'suspect', 'good', 'good']);
  });

  it('that stays is not believed before two minutes, however many readings', () => {
    const stays = [0, 10, 20, 30, 40, 119, 120].map((seconds) => reading(seconds, 85));
    expect(outcomes(...stays)).toEqual([...Array(6).fill('suspect'), 'good']);
  });

  it.each([84.9375, 85.0625])('is the only value doubted: %d is good', (value) => {
    expect(outcomes(reading(0, 21.5), reading(10, value))).toEqual(['good', 'good']);
  });

  it('from a probe that is of another kind is good', () => {
    expect(run(labWith(probe({ powersOnAt85: false })), reading(0, 85)).outcomes).toEqual(['good']);
  });

  it('is recognised before the correction is added', () => {
    expect(run(labWith(probe({ correction_celsius: 0.3 })), reading(0, 85)).outcomes).toEqual(['suspect']);
  });
});
