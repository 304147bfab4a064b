// Annealers, water baths and lamps of many sizes.

import { type Draw, roundTo } from '../draw/draw.ts';
import { type AnnealerDesign, annealerModel } from '../physics/annealer.ts';
import { type SingleMassDesign, singleMassModel } from '../physics/single-mass.ts';
import { trialRun } from './trial-run.ts';

export const drawAnnealer = (draw: Draw) => {
  for (;;) {
    const size = draw.logUniform(0.5, 3);
    const set = roundTo(draw.uniform(42, 54), 0.5);
    const hysteresis = draw.uniform(0.4, 1.6);
    const design: AnnealerDesign = {
      heaterWatts: roundTo(120 * size * draw.uniform(0.7, 1.5), 5),
      thermostat: {
        closesBelow: set - hysteresis / 2,
        opensAbove: set + hysteresis / 2,
        lagSeconds: draw.uniform(5, 30),
      },
      wallJoulesPerKelvin: 1500 * size * draw.uniform(0.7, 1.6),
      airJoulesPerKelvin: 60 * size,
      loadJoulesPerKelvin: 400 * size * draw.uniform(0.4, 1.2),
      wallToUpper: 3 * size * draw.uniform(0.9, 1.1),
      wallToLower: 3 * size * draw.uniform(0.85, 1.05),
      betweenZones: draw.uniform(0.05, 0.3) * size,
      fanMixing: draw.uniform(3, 8) * size,
      airToLoad: 0.3 * size * draw.uniform(0.7, 1.4),
      wallLoss: 0.6 * size * draw.uniform(0.6, 1.4),
      upperLoss: draw.uniform(0.03, 0.2) * size,
      lowerLoss: draw.uniform(0.3, 0.7) * size,
      upperDoorLoss: draw.uniform(1, 2.5) * size,
      lowerDoorLoss: draw.uniform(1.5, 3.5) * size,
    };
    const spots = { probe: 'upper', hottest: 'upper', coldest: 'lower' };
    const trial = trialRun((start) => annealerModel(design, start), spots, set - 3, set - 1);
    const half = roundTo(draw.uniform(3, 5), 0.5);
    const setCelsius = roundTo(trial.mean, 0.5);
    const window = [roundTo(set - half, 1), roundTo(set + half, 1)] as const;
    const works =
      trial.periodSeconds >= 90 &&
      trial.periodSeconds < 1800 &&
      trial.valley > window[0] + 1 &&
      Math.max(trial.peak, trial.firstPeak) < window[1] - 1 &&
      trial.setSeconds < 5400;
    if (!works) continue;
    const ceilingCelsius = window[1] + draw.whole(3, 8);
    const soakMinutes = draw.pick([10, 15, 20, 25, 30]);
    const unevenKelvin = draw.pick([2.5, 2.5, 2, 3]);
    return { design, setCelsius, window, ceilingCelsius, soakMinutes, unevenKelvin, trial };
  }
};

export const drawBath = (draw: Draw) => {
  for (;;) {
    const litres = draw.logUniform(0.8, 8);
    const set = roundTo(draw.uniform(40, 58), 0.5);
    const hysteresis = draw.uniform(0.3, 1.6);
    const joulesPerKelvin = litres * 4186 + 300;
    const warmUp = draw.logUniform(12, 60) * 60;
    const duty = draw.uniform(0.1, 0.35);
    const heaterWatts = roundTo(((joulesPerKelvin * (set - 20)) / warmUp) * (1 + duty / 2), 5);
    const loss = (duty * heaterWatts) / (set - 20);
    const design: SingleMassDesign = {
      joulesPerKelvin,
      heaterWatts,
      thermostat: {
        closesBelow: set - hysteresis / 2,
        opensAbove: set + hysteresis / 2,
        lagSeconds: draw.uniform(3, 25),
      },
      loss: loss * 0.6,
      openLoss: loss * draw.uniform(0.4, 1),
      workingWatts: heaterWatts * draw.uniform(0.04, 0.15),
    };
    const spots = { probe: 'middle', hottest: 'middle', coldest: 'middle' };
    const trial = trialRun((start) => singleMassModel(design, start), spots, set - 3, set - 1);
    const half = draw.pick([1.5, 2, 2.5, 3]);
    const window = [roundTo(set - half, 0.5), roundTo(set + half, 0.5)] as const;
    const works =
      trial.periodSeconds >= 60 &&
      trial.periodSeconds < 3600 &&
      trial.valley > window[0] + 0.4 &&
      Math.max(trial.peak, trial.firstPeak) < window[1] - 0.4;
    if (!works) continue;
    const ceilingCelsius = Math.ceil(window[1] + draw.uniform(3, 8));
    return { design, setCelsius: roundTo(trial.mean, 0.5), window, ceilingCelsius, trial };
  }
};

export const drawLamp = (
  draw: Draw,
): { readonly design: SingleMassDesign; readonly ceilingCelsius: number } => {
  const warmest = draw.uniform(42, 58);
  const loss = draw.uniform(0.3, 0.9);
  return {
    design: {
      joulesPerKelvin: loss * draw.uniform(60, 240),
      heaterWatts: loss * (warmest - 20),
      thermostat: null,
      loss,
      openLoss: 0,
      workingWatts: loss * draw.uniform(0, 4),
    },
    ceilingCelsius: Math.ceil(warmest + draw.uniform(8, 16)),
  };
};
