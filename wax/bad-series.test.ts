import { describe, expect, it } from 'vitest';
import { firstOrderForecast, firstOrderStart, firstOrderStep } from './heat/first-order-fit.ts';
import { minutesToLimit } from './heat/minutes-to-limit.ts';
import { doseStart, doseStep, heatDose } from './heat/heat-dose.ts';
import {
  meanKineticTemperature,
  meanKineticTemperatureOfSeries,
  mktStart,
  mktStep,
  mktValue,
} from './heat/mean-kinetic-temperature.ts';
import { nightForecast } from './relaxation/night-forecast.ts';
import { probeCalibration } from './probes/probe-calibration.ts';
import { rainflow, rainflowStart, rainflowStep } from './numbers/rainflow.ts';
import { checkSeries } from './reading-guard.ts';
import { relaxationStart, relaxationStep } from './relaxation/reduced-time.ts';
import { calibrateRelaxation } from './relaxation/relaxation-calibration.ts';
import { relaxationParameters } from './relaxation/relaxation-parameters.ts';
import { soakStart, soakStep } from './heat/soak.ts';
import { thermalRates } from './heat/thermal-mass.ts';
import { thermostatStart, thermostatStep, thermostatSummary } from './heat/thermostat-cycle.ts';
import { celsius, type EpochMillis, epochMillis } from './units.ts';
import { wax, kinetics, NOT_TEMPERATURES, gap, body, refusesEach } from '../tests/bad-values.ts';

const params = relaxationParameters(wax);

describe('A stream', () => {
  const [early, late] = [epochMillis(1000), epochMillis(2000)];
  const good = celsius(21);
  const options = { kinetics, longestGap: gap };
  const dosed = doseStep(doseStart(), late, good, options);
  const mkt = mktStep(mktStart({ longestGap: gap }), late, good);
  const relaxed = relaxationStep(relaxationStart(early), late, good, params);
  const fitted = firstOrderStep(firstOrderStart(), late, good);
  const cycling = thermostatStep(thermostatStart(), late, good);
  const soaking = soakStep(soakStart(body, early, good, good), body, late, good);
  const swings = rainflowStep(rainflowStart(), 21).state;

  it.each([
    ...NOT_TEMPERATURES.map((bad) => ({ what: `${bad} °C`, at: epochMillis(3000), bad })),
    { what: 'a reading of the same instant', at: late, bad: good },
    { what: 'an older reading', at: early, bad: good },
    { what: 'a reading at no instant', at: Number.NaN as EpochMillis, bad: good },
    { what: 'a reading at the end of time', at: Infinity as EpochMillis, bad: good },
  ])('leaves $what out, counts it and changes nothing else', ({ at, bad }) => {
    expect(doseStep(dosed, at, bad, options)).toEqual({ ...dosed, refused: 1 });
    expect(mktStep(mkt, at, bad)).toEqual({ ...mkt, refused: 1 });
    expect(relaxationStep(relaxed, at, bad, params)).toEqual({ ...relaxed, refused: 1 });
    expect(firstOrderStep(fitted, at, bad)).toEqual({ ...fitted, skipped: 1 });
    expect(thermostatStep(cycling, at, bad)).toEqual({ ...cycling, skipped: 1 });
    expect(soakStep(soaking, body, at, bad)).toEqual({ ...soaking, skipped: 1 });
  });

  it.each([Number.NaN, Infinity, -Infinity])('of swings leaves %d out and counts it', (bad) => {
    expect(rainflowStep(swings, bad)).toEqual({ state: { ...swings, refused: 1 }, cycles: [] });
  });

  it('that is empty or of one reading has no result, not a nought', () => {
    expect(mktValue(mktStart({ longestGap: gap }))).toBeNull();
    expect(mktValue(mkt)).toBeNull();
    expect(firstOrderForecast(fitted)).toBeNull();
    expect(minutesToLimit(fitted, celsius(30))).toBeNull();
    expect(thermostatSummary(cycling)).toBeNull();
  });
});

describe('Series', () => {
  type Series = readonly { readonly at: number; readonly celsius: number }[];
  refusesEach<Series>(
    {
      checkSeries,
      heatDose: (bad) => heatDose(bad, { kinetics, longestGap: gap }),
      meanKineticTemperatureOfSeries: (bad) => meanKineticTemperatureOfSeries(bad, { longestGap: gap }),
      nightForecast: (bad) => nightForecast(bad, epochMillis(1)),
    },
    [
      [],
      [
        { at: 2, celsius: 20 },
        { at: 1, celsius: 20 },
      ],
      [
        { at: 1, celsius: 20 },
        { at: 1, celsius: 20 },
      ],
      [{ at: Number.NaN, celsius: 20 }],
    ],
  );

  it('that are empty or hold no number give no swings and no mean', () => {
    expect(rainflow([]).ok || rainflow([1, Number.NaN, 2]).ok || meanKineticTemperature([]).ok).toBe(false);
    expect(meanKineticTemperature([{ celsius: 20, weight: 0 }]).ok).toBe(false);
  });

  it('with too few readings fix no fit', () => {
    expect(calibrateRelaxation({ sticks: [] }).ok).toBe(false);
    expect(thermalRates([]).ok).toBe(false);
    expect(probeCalibration([], 0.1).ok).toBe(false);
  });
});
