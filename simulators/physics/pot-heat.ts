// The heat of a pot: its body and its wax, layer by layer, with what comes and goes when wax is added or taken.

import { type HeatNetwork, type HeatPath, heatNetwork, massStore } from './heat-network.ts';
import type { ControlDesign } from './thermostat.ts';
import { type MeltingRange, waxStore } from './wax-store.ts';

export interface PotDesign {
  readonly bodyJoulesPerKelvin: number;
  readonly waxGrams: number;
  readonly melting: MeltingRange;
  readonly heaterWatts: number;
  readonly thermostat: ControlDesign;
  /** 1: the feeler touches the body; 0: it hangs in the wax. */
  readonly feelsBody: number;
  /** At a full pot; falls with the wetted wall. */
  readonly bodyToWax: number;
  readonly wallLoss: number;
  readonly surfaceLoss: number;
  /** What the lid leaves of the surface loss. */
  readonly lidFactor: number;
  /** Heat that cold dies or strips take while work goes on. */
  readonly dippingWatts: number;
  readonly dippingGramsPerHour: number;
  /** Of equal mass, from the bottom up; 1 where left out. */
  readonly layers?: number;
  /** Between two layers: through solid wax, and where both are molten and stir themselves. */
  readonly solidBetween?: number;
  readonly moltenBetween?: number;
  /** Layer that the probe sits in, from 0; the lowest where left out. */
  readonly probeLayer?: number;
  /** Shares of the full mark below which probe and feeler are bare; never where left out. */
  readonly probeBareBelow?: number;
  readonly feelerBareBelow?: number;
}

/** Index of the body among the stores; the layers follow from the lowest up. */
export const BODY = 0;

export interface PotHeat {
  readonly heat: HeatNetwork;
  /** Index of the uppermost layer. */
  readonly top: number;
  readonly grams: () => number;
  /** Wax that leaves takes its heat along; wax that comes brings its own: both are in the books as supply. */
  readonly level: (grams: number, addedCelsius: number) => void;
  readonly waxCelsius: () => number;
  readonly hottest: () => number;
  readonly coldest: () => number;
  /** Sets what conducts, for the wax that is there now. */
  readonly conduct: (lidIsOff: boolean) => void;
}

const potNetwork = (design: PotDesign, layers: number, startCelsius: number): HeatNetwork => {
  const room = 1 + layers;
  const share = 1 / layers;
  const wet: HeatPath[] = [];
  const between: HeatPath[] = [];
  for (let i = 1; i <= layers; i += 1) wet.push({ a: BODY, b: i, wattsPerKelvin: design.bodyToWax * share });
  for (let i = 2; i <= layers; i += 1) between.push({ a: i - 1, b: i, wattsPerKelvin: 0 });
  const stores = [
    massStore(design.bodyJoulesPerKelvin),
    ...wet.map(() => waxStore(design.waxGrams * share, design.melting)),
  ];
  return heatNetwork(
    stores,
    [
      ...wet,
      ...between,
      { a: BODY, b: room, wattsPerKelvin: design.wallLoss },
      { a: layers, b: room, wattsPerKelvin: design.surfaceLoss },
    ],
    [startCelsius],
    stores.map(() => startCelsius),
  );
};

export const potHeat = (design: PotDesign, startCelsius: number): PotHeat => {
  const layers = design.layers ?? 1;
  const share = 1 / layers;
  const full = design.waxGrams;
  const { solidBetween = 0, moltenBetween = 0, melting } = design;
  const surface = 2 * layers;
  const heat = potNetwork(design, layers, startCelsius);
  const now = { grams: full };

  return {
    heat,
    top: layers,
    grams: () => now.grams,
    level: (target, addedCelsius) => {
      if (target === now.grams || target <= 0) return;
      const store = waxStore(target * share, melting);
      const added = (target - now.grams) * share;
      const brought = added < 0 ? 0 : waxStore(added, melting).joulesAt(addedCelsius);
      const left = added < 0 ? target / now.grams : 1;
      for (let i = 1; i <= layers; i += 1) heat.replace(i, store, heat.joules(i) * left + brought);
      now.grams = target;
    },
    waxCelsius: () => {
      let sum = 0;
      for (let i = 1; i <= layers; i += 1) sum += heat.celsius(i);
      return sum * share;
    },
    hottest: () => {
      let most = Number.NEGATIVE_INFINITY;
      for (let i = 1; i <= layers; i += 1) most = Math.max(most, heat.celsius(i));
      return most;
    },
    coldest: () => {
      let least = Number.POSITIVE_INFINITY;
      for (let i = 1; i <= layers; i += 1) least = Math.min(least, heat.celsius(i));
      return least;
    },
    conduct: (lidIsOff) => {
      const wetted = (design.bodyToWax * share * now.grams) / full;
      for (let i = 0; i < layers; i += 1) heat.wattsPerKelvin[i] = wetted;
      for (let i = 2; i <= layers; i += 1) {
        const colder = Math.min(heat.celsius(i - 1), heat.celsius(i));
        const span = melting.liquidus - melting.solidus;
        const molten = Math.min(1, Math.max(0, (colder - melting.solidus) / span));
        heat.wattsPerKelvin[layers + i - 2] = solidBetween + molten * molten * moltenBetween;
      }
      heat.wattsPerKelvin[surface] = design.surfaceLoss * (lidIsOff ? 1 : design.lidFactor);
    },
  };
};
