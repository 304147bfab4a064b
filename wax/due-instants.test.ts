import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dueInstants } from './due-instants.ts';
import type { PatternFacts } from './predicted-error.ts';
import { relaxationStart, relaxationStep } from './reduced-time.ts';
import { relaxationParameters } from './relaxation-parameters.ts';
import { instantOfTolerance } from './tolerance-instant.ts';
import {
  celsius,
  epochMillis,
  MILLIS_PER_DAY,
  MILLIS_PER_HOUR,
  micrometres,
  millimetres,
  seconds,
} from './units.ts';
import { waxClass } from './wax-class.ts';

const wax = waxClass('inlay-type-1');
const params = relaxationParameters(wax, seconds(1e12));
const pattern: PatternFacts = { technique: 'sheet', length: millimetres(10), fittedCelsius: celsius(20) };
const now = epochMillis(1_760_000_000_000);
const state = relaxationStep(relaxationStart(epochMillis(now - MILLIS_PER_HOUR)), now, celsius(20), params);
/** Hourly means of the 26 hours before, by the hour before now. */
const day = (warmth: (hour: number) => number, from = 26) =>
  Array.from({ length: from }, (_, index) => ({
    at: now - (from - index) * MILLIS_PER_HOUR,
    celsius: warmth(from - index),
  }));
const due = (lastDay: ReturnType<typeof day>) =>
  dueInstants(state, pattern, wax, params, micrometres(40), lastDay, MILLIS_PER_HOUR);

describe('when a pattern is due', () => {
  it('is the same by both courses where the last day was as warm as now throughout', () => {
    const { earliest, ifSteady, byForecast } = due(day(() => 20));
    expect([byForecast, earliest]).toEqual([ifSteady, ifSteady]);
  });

  it('is sooner by the forecast where the day before grew warm, and then that counts', () => {
    const { earliest, ifSteady, byForecast } = due(day((hour) => (hour > 10 && hour < 16 ? 34 : 20)));
    expect(byForecast).toBeLessThan(ifSteady ?? Infinity);
    expect(byForecast).toBeLessThan(now + MILLIS_PER_DAY);
    expect(earliest).toBe(byForecast);
  });

  it('knows only the steady course without a full day of readings', () => {
    const alone = due(day(() => 30, 20));
    expect(alone).toEqual({ earliest: alone.ifSteady, ifSteady: alone.ifSteady });
    expect(alone.ifSteady).toBe(instantOfTolerance(state, pattern, wax, params, micrometres(40)));
  });

  it('is never later than either course', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 14, max: 32 }), { minLength: 27, maxLength: 27 }), (hours) => {
        const { earliest, ifSteady, byForecast } = due(day((hour) => hours[hour] ?? 20));
        for (const one of [ifSteady, byForecast])
          if (one != null) expect(earliest ?? Infinity).toBeLessThanOrEqual(one);
      }),
    );
  });
});
