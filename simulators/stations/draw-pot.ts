// Pots of all sizes: a few hundred grams on a bench to five kilograms in a tank, warm in a quarter of an hour or in
// two hours, with coarse and fine thermostats. What comes out is drawn again until it works as a pot.

import type { Draw } from '../draw/draw.ts';
import { roundTo } from '../draw/draw.ts';
import { type PotDesign, potModel } from '../physics/pot.ts';
import { type TrialRun, trialRun } from './trial-run.ts';

interface WaxSort {
  readonly name: string;
  readonly solidus: readonly [number, number];
  readonly span: readonly [number, number];
}

/** Melting ranges as the trade gives them, in round figures. */
const WAX_SORTS: readonly [WaxSort, ...WaxSort[]] = [
  { name: 'sticky wax', solidus: [58, 62], span: [6, 10] },
  { name: 'inlay wax', solidus: [55, 60], span: [8, 12] },
  { name: 'dipping wax', solidus: [58, 63], span: [8, 11] },
  { name: 'baseplate wax', solidus: [47, 51], span: [9, 13] },
  { name: 'casting wax', solidus: [54, 58], span: [9, 12] },
  { name: 'paraffin wax', solidus: [50, 55], span: [4, 8] },
  { name: 'utility wax', solidus: [44, 48], span: [8, 11] },
];

export interface DrawnPot {
  readonly design: PotDesign;
  readonly wax: string;
  readonly setCelsius: number;
  readonly ceilingCelsius: number;
  readonly trial: TrialRun;
  readonly control: 'on-off' | 'proportional';
  readonly hysteresisKelvin: number;
}

const drawDesign = (draw: Draw) => {
  const sort = draw.pick(WAX_SORTS);
  const solidus = roundTo(draw.uniform(...sort.solidus), 0.5);
  const liquidus = roundTo(solidus + draw.uniform(...sort.span), 0.5);
  const set = roundTo(Math.min(95, Math.max(60, liquidus + draw.uniform(5, 20))), 1);
  const kilograms = draw.logUniform(0.3, 5);
  const bodyJoulesPerKelvin = kilograms * draw.uniform(250, 800) + 80;
  const warmUp = draw.logUniform(18, 110) * 60;
  const heat = kilograms * (2400 * (set - 20) + 170_000) + bodyJoulesPerKelvin * (set - 20);
  const duty = draw.uniform(0.15, 0.55);
  const heaterWatts = roundTo((heat / warmUp) * (1 + 0.5 * duty), 1);
  const loss = (duty * heaterWatts) / (set - 20);
  const surfaceShare = draw.uniform(0.35, 0.65);
  const lidFactor = draw.uniform(0.35, 0.7);
  const isOnOff = draw.chance(0.8);
  const hysteresisKelvin = roundTo(draw.logUniform(0.5, 8), 0.1);
  const lagSeconds = draw.logUniform(4, 60);
  const layers = draw.whole(2, 3);
  const probeLayer = draw.whole(0, layers - 1);
  const design: PotDesign = {
    bodyJoulesPerKelvin,
    waxGrams: kilograms * 1000,
    melting: { solidus, liquidus },
    heaterWatts,
    thermostat: isOnOff
      ? { closesBelow: set - hysteresisKelvin / 2, opensAbove: set + hysteresisKelvin / 2, lagSeconds }
      : {
          setCelsius: set,
          bandKelvin: draw.uniform(4, 14),
          restShare: duty * draw.uniform(0.7, 1),
          lagSeconds: lagSeconds / 2,
        },
    feelsBody: draw.uniform(0.05, 0.7),
    bodyToWax: heaterWatts / draw.uniform(6, 25),
    wallLoss: loss * (1 - surfaceShare),
    surfaceLoss: (loss * surfaceShare) / lidFactor,
    lidFactor,
    dippingWatts: heaterWatts * draw.uniform(0.03, 0.15),
    dippingGramsPerHour: kilograms * draw.uniform(8, 35),
    layers,
    solidBetween: 0.4 * kilograms ** 0.67,
    moltenBetween: draw.uniform(8, 20) * kilograms ** 0.67,
    probeLayer,
    probeBareBelow: draw.uniform(0.15, 0.35),
    feelerBareBelow: draw.uniform(0.15, 0.4),
  };
  return { design, sort, set, isOnOff, hysteresisKelvin };
};

export const drawPot = (draw: Draw): DrawnPot => {
  for (;;) {
    const { design, sort, set, isOnOff, hysteresisKelvin } = drawDesign(draw);
    const { liquidus } = design.melting;
    const spots = { probe: 'wax', hottest: 'hottest', coldest: 'coldest' };
    const trial = trialRun((start) => potModel(design, start), spots, liquidus, set - 4);
    const setCelsius = roundTo(trial.mean + draw.uniform(-0.8, 0.8), 0.5);
    const highest = Math.max(trial.firstPeak, trial.peak);
    const ceilingCelsius = Math.ceil(highest + draw.uniform(4, 14));
    const cycles = !isOnOff || (trial.periodSeconds >= 120 && trial.periodSeconds <= 1800);
    const works =
      cycles &&
      trial.moltenSeconds < 7200 &&
      trial.setSeconds < 9000 &&
      trial.valley > liquidus + 1 &&
      setCelsius >= 59 &&
      setCelsius <= 96 &&
      highest < setCelsius + 14 &&
      trial.fullPowerCelsius > ceilingCelsius + 15 &&
      trial.fullPowerCelsius < 330;
    if (!works) continue;
    const control = isOnOff ? 'on-off' : 'proportional';
    return { design, wax: sort.name, setCelsius, ceilingCelsius, trial, control, hysteresisKelvin };
  }
};
