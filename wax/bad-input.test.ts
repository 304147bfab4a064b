// Every public door of the science with input from a broken world: each says why, none gives a silent number.
import { describe, expect, it } from 'vitest';
import { burnCaution } from './burn-caution.ts';
import type { BentStickTest } from './bent-stick-test.ts';
import { conductionSeries } from './conduction-series.ts';
import { firstOrderForecast, firstOrderStart, firstOrderStep, minutesToLimit } from './first-order-fit.ts';
import { ALLOY_SHRINKAGE, fitBudget, INVESTMENT_EXPANSION, patternShrinkage } from './fit-budget.ts';
import { checkedFlowBand } from './flow.ts';
import {
  checkedDoseOfRamp,
  doseAfterTopUp,
  doseKinetics,
  doseStart,
  doseStep,
  evaporationRatio,
  heatDose,
} from './heat-dose.ts';
import {
  meanKineticTemperature,
  meanKineticTemperatureOfSeries,
  mktStart,
  mktStep,
  mktValue,
} from './mean-kinetic-temperature.ts';
import { nightForecast } from './night-forecast.ts';
import { reversibleError } from './predicted-error.ts';
import { linearWordCelsius, linearWordCode, oneWireCelsius, oneWireCode } from './probes/digital-codes.ts';
import { guardedDecision } from './probes/guard-band.ts';
import { platinumCelsius, platinumOhms } from './probes/platinum.ts';
import { calibrated, probeCalibration } from './probes/probe-calibration.ts';
import {
  betaCelsius,
  betaOhms,
  steinhartHartFrom,
  thermistorCelsius,
  thermistorOhms,
} from './probes/thermistor.ts';
import { thermocoupleCelsius, thermocoupleMillivolts } from './probes/thermocouple.ts';
import { toleranceOf } from './probes/tolerance-class.ts';
import { rainflow, rainflowStart, rainflowStep } from './rainflow.ts';
import { checkedSeries } from './reading-guard.ts';
import { relaxationStart, relaxationStep } from './reduced-time.ts';
import { calibrateRelaxation, calibrationCurve } from './relaxation-calibration.ts';
import { relaxationParameters } from './relaxation-parameters.ts';
import type { Result } from './result.ts';
import { soakCelsius, soakStart, soakStep, softToTheCoreAfter, softToTheCoreAt } from './soak.ts';
import { type SoakBody, soakBody, soakMaterialOf, underLamp } from './soak-body.ts';
import { thermalRates, waxGrams } from './thermal-mass.ts';
import { checkedThermalStrain } from './thermal-strain.ts';
import { thermostatStart, thermostatStep, thermostatSummary, thermostatTimes } from './thermostat-cycle.ts';
import {
  type Celsius,
  celsius,
  type EpochMillis,
  epochMillis,
  type Fraction,
  type Millimetres,
  millimetres,
  seconds,
} from './units.ts';
import { checkedWaxClass, waxClass } from './wax-class.ts';

const wax = waxClass('inlay-type-2');
const kinetics = doseKinetics(wax);
const params = relaxationParameters(wax);
/** What JSON of a broken world holds in the place of a number; the casts stand for callers that the types do not reach. */
const NOT_NUMBERS = [null, '25'].map((bad) => bad as unknown as number);
const NOT_TEMPERATURES = [Number.NaN, Infinity, -Infinity, -273.16, -1e9, ...NOT_NUMBERS].map(
  (bad) => bad as Celsius,
);
const NOT_LENGTHS = [Number.NaN, Infinity, 0, -1, ...NOT_NUMBERS].map((bad) => bad as Millimetres);
const gap = seconds(60);
const body = ((): SoakBody => {
  const made = soakBody({ kind: 'stick', diameter: millimetres(6) }, soakMaterialOf(wax), 'still-air');
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
})();
const steinhart = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
const beta = { r25: 10_000, beta: 3950 };
const stick = (at: Celsius, more: readonly { hours: number; millimetres: number }[] = []) => ({
  celsius: at,
  openings: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]
    .map((hours) => ({ hours, millimetres: Math.sqrt(hours) }))
    .concat(more),
});
const fit = ((test: BentStickTest) => {
  const made = calibrateRelaxation(test);
  if (!made.ok) throw new Error(made.problem.code);
  return made.value;
})({ sticks: [stick(celsius(15)), stick(celsius(25))] });

type Doors<T> = Readonly<Record<string, (bad: T) => Result<unknown>>>;
const refusesEach = <T>(doors: Doors<T>, bad: readonly T[]): void => {
  for (const [name, door] of Object.entries(doors))
    it.each(bad.map((value) => ({ value })))(`${name} refuses $value with a code`, ({ value }) => {
      const result = door(value);
      expect(result.ok).toBe(false);
      if (result.ok) return;
      expect(result.problem.code).toMatch(/^[a-z]+(-[a-z]+)+$/);
    });
};

describe('What is no temperature', () => {
  refusesEach<Celsius>(
    {
      checkedFlowBand: (bad) => checkedFlowBand(wax, bad),
      'checkedThermalStrain, from': (bad) => checkedThermalStrain(wax, bad, 30),
      'checkedThermalStrain, to': (bad) => checkedThermalStrain(wax, 30, bad),
      'checkedDoseOfRamp, from': (bad) => checkedDoseOfRamp(bad, 70, 60, kinetics),
      'checkedDoseOfRamp, to': (bad) => checkedDoseOfRamp(70, bad, 60, kinetics),
      'checkedDoseOfRamp, reference': (bad) => checkedDoseOfRamp(70, 70, 60, { ...kinetics, reference: bad }),
      heatDose: (bad) => heatDose([{ at: 0, celsius: bad }], { kinetics, longestGap: gap }),
      checkedSeries: (bad) => checkedSeries([{ at: 0, celsius: bad }]),
      meanKineticTemperature: (bad) => meanKineticTemperature([{ celsius: 20 }, { celsius: bad }]),
      meanKineticTemperatureOfSeries: (bad) =>
        meanKineticTemperatureOfSeries([{ at: 0, celsius: bad }], { longestGap: gap }),
      nightForecast: (bad) => nightForecast([{ at: 0, celsius: bad }], epochMillis(1)),
      'soakCelsius, start': (bad) => soakCelsius(body, bad, celsius(50), 60),
      'soakCelsius, outside': (bad) => soakCelsius(body, celsius(20), bad, 60),
      'softToTheCoreAfter, start': (bad) => softToTheCoreAfter(body, bad, celsius(50), celsius(45)),
      'softToTheCoreAfter, outside': (bad) => softToTheCoreAfter(body, celsius(20), bad, celsius(45)),
      'softToTheCoreAfter, soft at': (bad) => softToTheCoreAfter(body, celsius(20), celsius(50), bad),
      softToTheCoreAt: (bad) =>
        softToTheCoreAt(soakStart(body, epochMillis(0), celsius(20), celsius(50)), body, bad),
      underLamp: (bad) => underLamp(bad, 100, 0.9, 10),
      burnCaution: (bad) => burnCaution(bad, 'liquid'),
      platinumOhms: (bad) => platinumOhms('pt100', bad),
      'thermocoupleMillivolts, hot': (bad) => thermocoupleMillivolts('K', bad),
      'thermocoupleMillivolts, cold': (bad) => thermocoupleMillivolts('T', celsius(20), bad),
      thermocoupleCelsius: (bad) => thermocoupleCelsius('K', 1, bad),
      thermistorOhms: (bad) => thermistorOhms(steinhart, bad),
      betaOhms: (bad) => betaOhms(beta, bad),
      steinhartHartFrom: (bad) =>
        steinhartHartFrom([
          { celsius: bad, ohms: 30_000 },
          { celsius: celsius(25), ohms: 10_000 },
          { celsius: celsius(50), ohms: 3500 },
        ]),
      toleranceOf: (bad) => toleranceOf('platinum-A', bad),
      oneWireCode: (bad) => oneWireCode(bad),
      linearWordCode,
      'guardedDecision, reading': (bad) =>
        guardedDecision(bad, { limit: 80, side: 'most', uncertainty: 0.5 }),
      'guardedDecision, limit': (bad) => guardedDecision(70, { limit: bad, side: 'most', uncertainty: 0.5 }),
      probeCalibration: (bad) =>
        probeCalibration(
          [
            { reading: bad, reference: bad, scatter: 0 },
            { reading: celsius(60), reference: celsius(60), scatter: 0 },
          ],
          0.1,
        ),
      thermostatTimes: (bad) =>
        thermostatTimes(
          { timeConstant: seconds(1800), ambient: bad, heaterOn: celsius(125) },
          celsius(68),
          celsius(72),
        ),
      calibrateRelaxation: (bad) => calibrateRelaxation({ sticks: [stick(bad), stick(celsius(20))] }),
      patternShrinkage: (bad) => patternShrinkage(wax, bad, celsius(20)),
    },
    NOT_TEMPERATURES,
  );

  const from = celsius(20);
  const curve = probeCalibration(
    [
      { reading: celsius(0), reference: celsius(0.1), scatter: 0 },
      { reading: celsius(60), reference: celsius(60.1), scatter: 0 },
    ],
    0.1,
  );
  it.each(NOT_TEMPERATURES.map((bad) => ({ bad })))(
    'throws where only a bug of ours can bring $bad',
    ({ bad }) => {
      expect(() => celsius(bad)).toThrow(RangeError);
      expect(() => evaporationRatio(bad, kinetics)).toThrow(RangeError);
      expect(() => soakStart(body, epochMillis(0), bad, from)).toThrow(RangeError);
      expect(() => soakStart(body, epochMillis(0), from, bad)).toThrow(RangeError);
      expect(() => calibrationCurve(fit, bad, [1])).toThrow(RangeError);
      expect(() => reversibleError(wax, bad, celsius(22), millimetres(10))).toThrow(RangeError);
      expect(curve.ok).toBe(true);
      if (!curve.ok) return;
      expect(() => calibrated(curve.value, bad)).toThrow(RangeError);
    },
  );
});

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
      checkedSeries,
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

describe('What is no duration, weight, gap or share', () => {
  refusesEach<number>(
    {
      'checkedDoseOfRamp, duration': (bad) => checkedDoseOfRamp(70, 80, bad, kinetics),
      'meanKineticTemperature, weight': (bad) => meanKineticTemperature([{ celsius: 20, weight: bad }]),
      'soakCelsius, duration': (bad) => soakCelsius(body, celsius(20), celsius(50), bad),
      'patternShrinkage, spread': (bad) => patternShrinkage(wax, celsius(37), celsius(20), bad),
      'guardedDecision, uncertainty': (bad) =>
        guardedDecision(70, { limit: 80, side: 'most', uncertainty: bad }),
      'probeCalibration, uncertainty': (bad) =>
        probeCalibration(
          [
            { reading: celsius(0), reference: celsius(0), scatter: 0 },
            { reading: celsius(60), reference: celsius(60), scatter: 0 },
          ],
          bad,
        ),
      'underLamp, flux': (bad) => underLamp(celsius(20), bad, 0.9, 10),
      'waxGrams, power': (bad) =>
        waxGrams(
          { powerOverCapacity: 0.1, standardError: 0, cycles: 3 },
          { heaterPower: bad, emptyCapacity: 100, waxHeatCapacity: 2200 },
        ),
    },
    [Number.NaN, Infinity, -1, ...NOT_NUMBERS],
  );

  refusesEach<number>(
    {
      'heatDose, gap': (bad) =>
        heatDose([{ at: 0, celsius: 70 }], { kinetics, longestGap: bad as typeof gap }),
      'meanKineticTemperatureOfSeries, gap': (bad) =>
        meanKineticTemperatureOfSeries([{ at: 0, celsius: 20 }], { longestGap: bad as typeof gap }),
      'nightForecast, days': (bad) => nightForecast([{ at: 0, celsius: 20 }], epochMillis(1), { days: bad }),
      'nightForecast, step': (bad) =>
        nightForecast([{ at: 0, celsius: 20 }], epochMillis(1), { stepMillis: bad }),
    },
    [Number.NaN, -1, ...NOT_NUMBERS],
  );

  it.each([Number.NaN, Infinity, 0, -1])('an activation energy of %d ages and averages nothing', (bad) => {
    const broken = { ...kinetics, activationEnergy: bad as typeof kinetics.activationEnergy };
    expect(checkedDoseOfRamp(70, 70, 60, broken)).toMatchObject({ problem: { code: 'bad-kinetics' } });
    expect(heatDose([{ at: 0, celsius: 70 }], { kinetics: broken, longestGap: gap }).ok).toBe(false);
    expect(meanKineticTemperature([{ celsius: 20 }], broken.activationEnergy).ok).toBe(false);
    expect(() => evaporationRatio(celsius(80), broken)).toThrow(RangeError);
  });

  it.each([Number.NaN, Infinity, -0.1, 1.1])('a top-up of %d mixes nothing', (bad) => {
    const share = bad as Fraction;
    expect(() => doseAfterTopUp(doseStart(), share)).toThrow(RangeError);
  });

  it.each([Number.NaN, Infinity, 0, -1])('a Biot number of %d conducts nothing', (bad) => {
    expect(() => conductionSeries('slab', bad)).toThrow(RangeError);
  });

  it.each([Number.NaN, -1])('a Fourier number of %d conducts nothing', (bad) => {
    expect(() => conductionSeries('cylinder', 1)(bad)).toThrow(RangeError);
  });
});

describe('What is no length', () => {
  refusesEach<Millimetres>(
    {
      'soakBody, stick': (bad) =>
        soakBody({ kind: 'stick', diameter: bad }, soakMaterialOf(wax), 'still-air'),
      'soakBody, sheet': (bad) => soakBody({ kind: 'sheet', thickness: bad }, soakMaterialOf(wax), 10),
      'soakBody, surface': (bad) =>
        soakBody({ kind: 'stick', diameter: millimetres(6) }, soakMaterialOf(wax), bad),
      fitBudget: (bad) =>
        fitBudget({
          wax: ALLOY_SHRINKAGE['pure-gold'],
          alloy: ALLOY_SHRINKAGE['pure-gold'],
          ...INVESTMENT_EXPANSION['gypsum-thermal'],
          length: bad,
        }),
    },
    NOT_LENGTHS,
  );

  it.each(NOT_LENGTHS.map((bad) => ({ bad })))('forecasts nothing for $bad mm', ({ bad }) => {
    expect(() => reversibleError(wax, celsius(37), celsius(22), bad)).toThrow(RangeError);
  });
});

describe('What no probe gives', () => {
  refusesEach<number>(
    {
      'platinumCelsius, resistance': (bad) => platinumCelsius('pt100', bad),
      'platinumCelsius, leads': (bad) => platinumCelsius('pt100', 110, bad === null ? bad : -bad),
      thermistorCelsius: (bad) => thermistorCelsius(steinhart, bad),
      betaCelsius: (bad) => betaCelsius(beta, bad),
      thermocoupleCelsius: (bad) => thermocoupleCelsius('K', bad, celsius(20)),
      oneWireCelsius: (bad) => oneWireCelsius(bad),
      linearWordCelsius,
    },
    [Number.NaN, Infinity, -Infinity, -1e6, ...NOT_NUMBERS],
  );
});

describe('A value of the lab’s own', () => {
  it.each([Number.NaN, Infinity, -300, ...NOT_NUMBERS])('of %s is refused with its name', (bad) => {
    const refused = checkedWaxClass('inlay-type-2', { ceiling: bad });
    expect(refused.ok ? null : [refused.problem.code, refused.problem.field]).toEqual([
      'wax-value-refused',
      'ceiling',
    ]);
  });
});
