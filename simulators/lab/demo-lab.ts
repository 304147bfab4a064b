// The eight stations of the demonstration as physics: powers, masses and losses of plausible small devices.
// Ids agree with the lab file of the demonstration. All figures are invented for the demonstration.

import { annealerModel } from '../physics/annealer.ts';
import { type PotDesign, potModel } from '../physics/pot.ts';
import { singleMassModel } from '../physics/single-mass.ts';
import type { StationModel } from '../physics/station-model.ts';
import { storageModel } from '../physics/storage.ts';
import type { ProbeDesign } from '../probe/probe.ts';
import type { GatewayDesign } from '../probe/wire-format.ts';

const SMALL_POT = { feelsBody: 0.4, lidFactor: 0.45, bodyToWax: 8 } as const;

/** A little pot: in its window after some twenty minutes; with a welded contact it would settle near 130 °C. */
const DIP_POT: PotDesign = {
  ...SMALL_POT,
  bodyJoulesPerKelvin: 190,
  waxGrams: 60,
  melting: { solidus: 58, liquidus: 68 },
  heaterWatts: 40,
  thermostat: { closesBelow: 91, opensAbove: 94, lagSeconds: 4 },
  wallLoss: 0.25,
  surfaceLoss: 0.17,
  lidFactor: 0.55,
  dippingWatts: 4,
  dippingGramsPerHour: 4,
};

const CROWN_POT: PotDesign = {
  ...SMALL_POT,
  bodyJoulesPerKelvin: 150,
  waxGrams: 35,
  melting: { solidus: 54, liquidus: 65 },
  heaterWatts: 30,
  thermostat: { closesBelow: 70, opensAbove: 73, lagSeconds: 5 },
  wallLoss: 0.15,
  surfaceLoss: 0.11,
  dippingWatts: 3,
  dippingGramsPerHour: 1.5,
};

const PLATE_POT: PotDesign = {
  ...SMALL_POT,
  bodyJoulesPerKelvin: 420,
  waxGrams: 120,
  melting: { solidus: 48, liquidus: 60 },
  heaterWatts: 75,
  thermostat: { closesBelow: 66, opensAbove: 69.5, lagSeconds: 8 },
  wallLoss: 0.35,
  surfaceLoss: 0.25,
  dippingWatts: 6,
  dippingGramsPerHour: 8,
};

export interface SimulatedStation {
  readonly id: string;
  readonly kind: 'melt-pot' | 'dip-pot' | 'annealer' | 'water-bath' | 'lamp' | 'cabinet' | 'shelf';
  /** Used by people as the station of this id is, where that is another one. */
  readonly usedLike?: string;
  readonly build: (startCelsius: number) => StationModel;
}

export const DEMO_STATIONS: readonly SimulatedStation[] = [
  { id: 'dip-pot', kind: 'dip-pot', build: (start) => potModel(DIP_POT, start) },
  { id: 'melt-pot-crowns', kind: 'melt-pot', build: (start) => potModel(CROWN_POT, start) },
  { id: 'melt-pot-plates', kind: 'melt-pot', build: (start) => potModel(PLATE_POT, start) },
  {
    id: 'annealer',
    kind: 'annealer',
    build: (start) =>
      annealerModel(
        {
          heaterWatts: 120,
          thermostat: { closesBelow: 49.4, opensAbove: 50.4, lagSeconds: 10 },
          wallJoulesPerKelvin: 1500,
          airJoulesPerKelvin: 60,
          loadJoulesPerKelvin: 400,
          wallToUpper: 3.2,
          wallToLower: 2.6,
          betweenZones: 1.5,
          fanMixing: 0,
          airToLoad: 0.25,
          wallLoss: 0.9,
          upperLoss: 0.05,
          lowerLoss: 0.1,
          upperDoorLoss: 1.1,
          lowerDoorLoss: 1.6,
        },
        start,
      ),
  },
  {
    id: 'water-bath',
    kind: 'water-bath',
    build: (start) =>
      singleMassModel(
        {
          joulesPerKelvin: 1.6 * 4186,
          heaterWatts: 320,
          thermostat: { closesBelow: 48.6, opensAbove: 49.2, lagSeconds: 6 },
          loss: 1.1,
          openLoss: 1.9,
          workingWatts: 60,
        },
        start,
      ),
  },
  {
    id: 'lamp',
    kind: 'lamp',
    build: (start) =>
      singleMassModel(
        { joulesPerKelvin: 55, heaterWatts: 16, thermostat: null, loss: 0.6, openLoss: 0, workingWatts: 1.5 },
        start,
      ),
  },
  {
    id: 'pattern-cabinet',
    kind: 'cabinet',
    build: (start) =>
      storageModel(
        {
          airJoulesPerKelvin: 900,
          contentsJoulesPerKelvin: 9000,
          airToContents: 3,
          airToRoom: 0.9,
          doorLoss: 6,
          sunWatts: 0,
        },
        start,
      ),
  },
  {
    id: 'window-shelf',
    kind: 'shelf',
    build: (start) =>
      storageModel(
        {
          airJoulesPerKelvin: 500,
          contentsJoulesPerKelvin: 1500,
          airToContents: 2,
          airToRoom: 2.5,
          doorLoss: 0,
          sunWatts: 7,
        },
        start,
      ),
  },
];

/** Metal-clad probe in a pot, behind a converter with fine steps. */
const CLAD = { lagSeconds: 6, noiseCelsius: 0.06, stepCelsius: 0.01 } as const;
/** 12-bit digital probe in air. */
const DIGITAL = { lagSeconds: 25, noiseCelsius: 0.03, stepCelsius: 0.0625 } as const;

export const DEMO_PROBES: readonly ProbeDesign[] = [
  { id: 'dip-wax', station: 'dip-pot', spot: 'wax', ...CLAD },
  { id: 'crowns-wax', station: 'melt-pot-crowns', spot: 'wax', ...CLAD },
  { id: 'plates-wax', station: 'melt-pot-plates', spot: 'wax', ...CLAD },
  { id: 'annealer-top', station: 'annealer', spot: 'upper', ...DIGITAL, lagSeconds: 50 },
  { id: 'annealer-bottom', station: 'annealer', spot: 'lower', ...DIGITAL, lagSeconds: 50 },
  { id: 'bath-water', station: 'water-bath', spot: 'middle', ...CLAD },
  { id: 'lamp-spot', station: 'lamp', spot: 'middle', ...CLAD, noiseCelsius: 0.15 },
  { id: 'cabinet-upper', station: 'pattern-cabinet', spot: 'air', ...DIGITAL },
  { id: 'cabinet-lower', station: 'pattern-cabinet', spot: 'contents', ...DIGITAL },
  { id: 'shelf-air', station: 'window-shelf', spot: 'air', ...DIGITAL },
];

export const DEMO_GATEWAYS: readonly GatewayDesign[] = [
  { id: 'gw-pots', format: 'number', probes: ['dip-wax', 'crowns-wax', 'plates-wax'] },
  {
    id: 'gw-bench',
    format: 'number',
    probes: ['annealer-top', 'annealer-bottom', 'bath-water', 'lamp-spot'],
  },
  { id: 'gw-store', format: 'senml', probes: ['cabinet-upper', 'cabinet-lower', 'shelf-air'] },
];
