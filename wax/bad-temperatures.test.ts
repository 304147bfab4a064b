import { describe, expect, it } from 'vitest';
import { burnCaution } from './burn-caution.ts';
import { patternShrinkage } from './relaxation/fit-budget.ts';
import { checkedFlowBand, flowBand } from './heat/flow.ts';
import { checkedDoseOfRamp, evaporationRatio, heatDose } from './heat/heat-dose.ts';
import { meanKineticTemperature, meanKineticTemperatureOfSeries } from './heat/mean-kinetic-temperature.ts';
import { nightForecast } from './relaxation/night-forecast.ts';
import { reversibleError } from './relaxation/predicted-error.ts';
import { linearWordCode, oneWireCode } from './probes/digital-codes.ts';
import { guardedDecision } from './probes/guard-band.ts';
import { platinumOhms } from './probes/platinum.ts';
import { applyCalibration, probeCalibration } from './probes/probe-calibration.ts';
import { betaOhms, steinhartHartFrom, thermistorOhms } from './probes/thermistor.ts';
import { thermocoupleCelsius, thermocoupleMillivolts } from './probes/thermocouple.ts';
import { toleranceOf } from './probes/tolerance-class.ts';
import { checkSeries } from './reading-guard.ts';
import { calibrateRelaxation, calibrationCurve } from './relaxation/relaxation-calibration.ts';
import { soakCelsius, soakStart, softToTheCoreAfter, softToTheCoreAt } from './heat/soak.ts';
import { underLamp } from './heat/soak-body.ts';
import { checkedThermalStrain, thermalStrain } from './relaxation/thermal-strain.ts';
import { thermostatTimes } from './heat/thermostat-cycle.ts';
import { type Celsius, celsius, epochMillis, millimetres, seconds } from './units.ts';
import {
  wax,
  kinetics,
  NOT_TEMPERATURES,
  gap,
  body,
  steinhart,
  beta,
  stick,
  fit,
  refusesEach,
} from '../tests/bad-values.ts';

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
      'heatDose, hot above': (bad) =>
        heatDose([{ at: 0, celsius: 70 }], { kinetics, longestGap: gap, hotAbove: bad }),
      checkSeries: (bad) => checkSeries([{ at: 0, celsius: bad }]),
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
      expect(() => thermalStrain(wax, bad, from)).toThrow(RangeError);
      expect(() => thermalStrain(wax, from, bad)).toThrow(RangeError);
      expect(() => flowBand(wax, bad)).toThrow(RangeError);
      expect(() => evaporationRatio(bad, kinetics)).toThrow(RangeError);
      expect(() => soakStart(body, epochMillis(0), bad, from)).toThrow(RangeError);
      expect(() => soakStart(body, epochMillis(0), from, bad)).toThrow(RangeError);
      expect(() => calibrationCurve(fit, bad, [1])).toThrow(RangeError);
      expect(() => reversibleError(wax, bad, celsius(22), millimetres(10))).toThrow(RangeError);
      expect(curve.ok).toBe(true);
      if (!curve.ok) return;
      expect(() => applyCalibration(curve.value, bad)).toThrow(RangeError);
    },
  );
});
