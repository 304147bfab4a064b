// Heat that moves between a few stores along paths of known conductance, with books that balance.
// Lumped heat balance, m c dT/dt = sum of W/K times the difference plus watts (any heat-transfer text, for
// example Incropera, chapter 5); stepped by Heun's rule, whose two slopes also feed the books, so that
// what was supplied equals what is stored plus what was lost to rounding error, whatever the step.
// It changes in place, because weeks are stepped through by the second.

/** Something that holds heat: joules and degrees Celsius of it are one another's inverse. Zero joules at 0 °C. */
export interface HeatStore {
  readonly joulesAt: (celsius: number) => number;
  readonly celsiusAt: (joules: number) => number;
}

/** Indices count the stores first and then the surroundings, whose temperature is given. */
export interface HeatPath {
  readonly a: number;
  readonly b: number;
  readonly wattsPerKelvin: number;
}

/** Joules since the start: what entered is what left and what is held more than at the start. */
export interface HeatBalance {
  readonly supplied: number;
  readonly lost: number;
  readonly gained: number;
}

export interface HeatNetwork {
  readonly celsius: (store: number) => number;
  readonly joules: (store: number) => number;
  /** Watts into each store (out of it where negative), to be set before a step. */
  readonly watts: Float64Array;
  /** Degrees Celsius of each of the surroundings, to be set before a step. */
  readonly surroundings: Float64Array;
  /** Watts a kelvin of each path, in the order in which the paths were given; may change between steps. */
  readonly wattsPerKelvin: Float64Array;
  /** Puts another thing, or more of it, in the place of a store; the difference of heat is in the books. */
  readonly replace: (index: number, store: HeatStore, joules: number) => void;
  /** One step; stable while `seconds` stays below the smallest time constant of any store. */
  readonly step: (seconds: number) => void;
  readonly balance: () => HeatBalance;
}

export const massStore = (joulesPerKelvin: number): HeatStore => ({
  joulesAt: (celsius) => celsius * joulesPerKelvin,
  celsiusAt: (joules) => joules / joulesPerKelvin,
});

/** @param startCelsius of each store. */
export const heatNetwork = (
  given: readonly HeatStore[],
  paths: readonly HeatPath[],
  surroundings: readonly number[],
  startCelsius: readonly number[],
): HeatNetwork => {
  const count = given.length;
  const stores = given.slice();
  const from = Int32Array.from(paths, ({ a }) => a);
  const to = Int32Array.from(paths, ({ b }) => b);
  const wattsPerKelvin = Float64Array.from(paths, (path) => path.wattsPerKelvin);
  const joules = Float64Array.from(stores, (store, i) => store.joulesAt(startCelsius[i] ?? 0));
  const before = new Float64Array(count);
  const watts = new Float64Array(count);
  const around = Float64Array.from(surroundings);
  const celsius = new Float64Array(count + surroundings.length);
  const first = new Float64Array(count);
  const second = new Float64Array(count);
  const held = () => joules.reduce((sum, part) => sum + part, 0);
  const heldAtStart = held();
  // Fields of an object change in place; a captured variable would be allocated anew at every step.
  const books = { supplied: 0, lost: 0 };

  /** Fills the slopes of all stores; returns the watts lost to the surroundings. */
  const slopes = (into: Float64Array): number => {
    for (let i = 0; i < count; i += 1) {
      celsius[i] = stores[i]?.celsiusAt(joules[i] ?? 0) ?? 0;
      into[i] = watts[i] ?? 0;
    }
    for (let i = 0; i < around.length; i += 1) celsius[count + i] = around[i] ?? 0;
    let lostWatts = 0;
    for (let p = 0; p < from.length; p += 1) {
      const a = from[p] ?? 0;
      const b = to[p] ?? 0;
      const flow = (wattsPerKelvin[p] ?? 0) * ((celsius[a] ?? 0) - (celsius[b] ?? 0));
      into[a] = (into[a] ?? 0) - flow;
      if (b < count) into[b] = (into[b] ?? 0) + flow;
      else lostWatts += flow;
    }
    return lostWatts;
  };

  return {
    watts,
    surroundings: around,
    wattsPerKelvin,
    joules: (store) => joules[store] ?? 0,
    celsius: (store) => stores[store]?.celsiusAt(joules[store] ?? 0) ?? 0,
    replace: (index, store, now) => {
      books.supplied += now - (joules[index] ?? 0);
      joules[index] = now;
      stores[index] = store;
    },
    step: (seconds) => {
      const firstLost = slopes(first);
      for (let i = 0; i < count; i += 1) {
        before[i] = joules[i] ?? 0;
        joules[i] = (joules[i] ?? 0) + (first[i] ?? 0) * seconds;
      }
      const secondLost = slopes(second);
      for (let i = 0; i < count; i += 1) {
        joules[i] = (before[i] ?? 0) + ((first[i] ?? 0) + (second[i] ?? 0)) * 0.5 * seconds;
        books.supplied += (watts[i] ?? 0) * seconds;
      }
      books.lost += (firstLost + secondLost) * 0.5 * seconds;
    },
    balance: () => ({ ...books, gained: held() - heldAtStart }),
  };
};
