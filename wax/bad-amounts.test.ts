import { describe, expect, it } from 'vitest';
import { burnCaution } from './burn-caution.ts';
import { conductionEigenvalue, conductionSeries } from './heat/conduction-series.ts';
import { coverageFactor95 } from './numbers/coverage-factor.ts';
import { fitAgreement, shareInterval } from './relaxation/fit-agreement.ts';
import {
  ALLOY_SHRINKAGE,
  fitBudget,
  INVESTMENT_EXPANSION,
  patternShrinkage,
} from './relaxation/fit-budget.ts';
import {
  ageingRatio,
  checkedDoseOfRamp,
  doseAfterTopUp,
  doseStart,
  evaporationRatio,
  heatDose,
} from './heat/heat-dose.ts';
import { meanKineticTemperature, meanKineticTemperatureOfSeries } from './heat/mean-kinetic-temperature.ts';
import { nightForecast } from './relaxation/night-forecast.ts';
import { reversibleError } from './relaxation/predicted-error.ts';
import { normalProbability, normalQuantile } from './numbers/normal-distribution.ts';
import { linearWordCelsius, oneWireCelsius, oneWireCode } from './probes/digital-codes.ts';
import { guardedDecision } from './probes/guard-band.ts';
import { platinumCelsius, platinumOhms } from './probes/platinum.ts';
import { probeCalibration } from './probes/probe-calibration.ts';
import { betaCelsius, thermistorCelsius } from './probes/thermistor.ts';
import { thermocoupleCelsius, thermocoupleMillivolts } from './probes/thermocouple.ts';
import { toleranceOf } from './probes/tolerance-class.ts';
import { releasedShare } from './relaxation/stretched-exponential.ts';
import { soakCelsius } from './heat/soak.ts';
import { soakBody, soakMaterialOf, underLamp } from './heat/soak-body.ts';
import { heatCapacityRatio, waxGrams } from './heat/thermal-mass.ts';
import { thermostatTimes } from './heat/thermostat-cycle.ts';
import { celsius, epochMillis, type Fraction, type Millimetres, millimetres, seconds } from './units.ts';
import { checkedWaxClass } from './wax-class.ts';
import { wax, kinetics, NOT_NUMBERS, gap, body, steinhart, beta, refusesEach } from '../tests/bad-values.ts';

const NOT_LENGTHS = [Number.NaN, Infinity, 0, -1, ...NOT_NUMBERS].map((bad) => bad as Millimetres);

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

  it.each([Number.NaN, Infinity, -0.1, 1.1, ...NOT_NUMBERS])('a top-up of %s mixes nothing', (bad) => {
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

describe('What is no number, in place of one', () => {
  it.each(NOT_NUMBERS)('gives no root, series, probability, factor or share: %s', (bad) => {
    expect(() => conductionEigenvalue('slab', bad, 1)).toThrow(RangeError);
    expect(() => conductionEigenvalue('slab', 1, bad)).toThrow(RangeError);
    expect(() => conductionSeries('slab', bad)).toThrow(RangeError);
    expect(() => conductionSeries('slab', 1, bad)).toThrow(RangeError);
    expect(() => conductionSeries('slab', 1)(bad)).toThrow(RangeError);
    expect(() => normalProbability(bad)).toThrow(RangeError);
    expect(coverageFactor95(bad)).toBe(Infinity);
    expect(() => shareInterval(bad, 20)).toThrow(RangeError);
    expect(() => shareInterval(1, bad)).toThrow(RangeError);
    expect(() => ageingRatio(celsius(80), { ...kinetics, activationEnergy: bad as never })).toThrow(
      RangeError,
    );
    const rates = { powerOverCapacity: 0.1, standardError: 0.01, cycles: 3 };
    expect(() => heatCapacityRatio(rates, { ...rates, powerOverCapacity: bad })).toThrow(RangeError);
    const pair = { measuredMicrometres: 40, likelyMicrometres: 30, lowMicrometres: 10, highMicrometres: 60 };
    expect(() => fitAgreement([pair, { ...pair, measuredMicrometres: bad }])).toThrow(RangeError);
    const load = { timeConstant: seconds(1800), ambient: celsius(25), heaterOn: celsius(125) };
    expect(thermostatTimes(load, bad as never, celsius(72)).ok).toBe(false);
    expect(thermostatTimes(load, celsius(20), bad as never).ok).toBe(false);
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

describe('A kind of probe that there is not', () => {
  it.each(['J', 'k', 'toString', '', null, undefined, 100])('throws with the kinds there are: %s', (bad) => {
    const kind = bad as never;
    expect(() => platinumOhms(kind, celsius(20))).toThrow('is none of pt100, pt1000');
    expect(() => platinumCelsius(kind, 110)).toThrow('is none of pt100, pt1000');
    expect(() => thermocoupleMillivolts(kind, celsius(20))).toThrow('is none of K, T');
    expect(() => thermocoupleCelsius(kind, 1, celsius(20))).toThrow('is none of K, T');
    expect(() => toleranceOf(kind, celsius(20))).toThrow('platinum-A');
  });
});

describe('A word that is in no table', () => {
  it.each(['toString', 'constructor', '', 'gas', null, undefined])(
    'is refused and computed with nowhere: %s',
    (bad) => {
      const word = bad as never;
      const refused = checkedWaxClass(word);
      expect(refused.ok ? null : refused.problem.code).toBe('wax-class-unknown');
      expect(() => guardedDecision(70, { limit: 75, side: word, uncertainty: 1 })).toThrow('most, least');
      expect(() => burnCaution(celsius(70), word)).toThrow('liquid, surface');
      expect(() => oneWireCelsius(0x0550, word ?? 13)).toThrow('9, 10, 11, 12');
      expect(() => oneWireCode(celsius(20), word ?? 13)).toThrow('9, 10, 11, 12');
      expect(soakBody({ kind: word, diameter: millimetres(6) }, soakMaterialOf(wax), 10).ok).toBe(false);
    },
  );
});

describe('What is no share of a time constant, exponent or probability', () => {
  it.each([Number.NaN, -1, ...NOT_NUMBERS])('throws in place of an answer: %s', (bad) => {
    expect(() => releasedShare(bad, 0.5)).toThrow(RangeError);
    expect(() => releasedShare(1, bad)).toThrow(RangeError);
    expect(() => normalQuantile(bad)).toThrow(RangeError);
  });

  it.each([0, 1, 2])('has no quantile: %d', (bad) => {
    expect(() => normalQuantile(bad)).toThrow(RangeError);
  });

  it('is an exponent above 1', () => {
    expect(() => releasedShare(1, 1.01)).toThrow(RangeError);
  });
});

describe('A value of the lab’s own', () => {
  it.each(NOT_NUMBERS)('of %s is refused also where nought would do', (bad) => {
    const names = ['relaxation.frozenStrain.layered', 'relaxation.spread.beta', 'solidificationShrinkage'];
    expect(names.map((name) => checkedWaxClass('inlay-type-2', { [name]: bad }).ok)).toEqual([
      false,
      false,
      false,
    ]);
  });

  it.each([Number.NaN, Infinity, -300, ...NOT_NUMBERS])('of %s is refused with its name', (bad) => {
    const refused = checkedWaxClass('inlay-type-2', { ceiling: bad });
    expect(refused.ok ? null : [refused.problem.code, refused.problem.field]).toEqual([
      'wax-value-refused',
      'ceiling',
    ]);
  });
});
