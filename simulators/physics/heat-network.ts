// Heat that moves between a few stores along paths of known conductance, with books that balance.
// Lumped heat balance, m c dT/dt = sum of W/K times the difference plus watts (any heat-transfer text, for
// example Incropera, chapter 5); stepped by Heun's rule, whose two slopes also feed the books, so that
// what was supplied equals what is stored plus what was lost to rounding error, whatever the step.

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

export interface HeatBooks {
  /** Heat in each store. */
  readonly joules: readonly number[];
  /** Joules that entered from heaters, people and sun (or left, where watts are negative), since the start. */
  readonly supplied: number;
  /** Joules that left to the surroundings since the start. */
  readonly lost: number;
}

export interface HeatDrive {
  /** Watts into each store. */
  readonly watts: readonly number[];
  /** Temperature of each of the surroundings. */
  readonly surroundings: readonly number[];
}

export const massStore = (joulesPerKelvin: number): HeatStore => ({
  joulesAt: (celsius) => celsius * joulesPerKelvin,
  celsiusAt: (joules) => joules / joulesPerKelvin,
});

export const booksAt = (stores: readonly HeatStore[], celsius: readonly number[]): HeatBooks => ({
  joules: stores.map((store, i) => store.joulesAt(celsius[i] ?? 0)),
  supplied: 0,
  lost: 0,
});

const held = (books: HeatBooks): number => books.joules.reduce((sum, joules) => sum + joules, 0);

/** Supplied, lost, and held more than at the start: the first is the sum of the others. */
export const balanceSince = (start: HeatBooks, now: HeatBooks) => ({
  supplied: now.supplied - start.supplied,
  lost: now.lost - start.lost,
  gained: held(now) - held(start),
});

interface Slopes {
  readonly each: readonly number[];
  readonly lost: number;
}

const slopes = (
  stores: readonly HeatStore[],
  paths: readonly HeatPath[],
  drive: HeatDrive,
  joules: readonly number[],
): Slopes => {
  const count = stores.length;
  const celsius = stores.map((store, i) => store.celsiusAt(joules[i] ?? 0)).concat(drive.surroundings);
  const each = drive.watts.slice();
  let lost = 0;
  for (const { a, b, wattsPerKelvin } of paths) {
    const watts = wattsPerKelvin * ((celsius[a] ?? 0) - (celsius[b] ?? 0));
    each[a] = (each[a] ?? 0) - watts;
    if (b < count) each[b] = (each[b] ?? 0) + watts;
    else lost += watts;
  }
  each.length = count;
  return { each, lost };
};

/** One step; stable while `seconds` stays below the smallest time constant of any store. */
export const heatStep = (
  stores: readonly HeatStore[],
  paths: readonly HeatPath[],
  drive: HeatDrive,
  books: HeatBooks,
  seconds: number,
): HeatBooks => {
  const first = slopes(stores, paths, drive, books.joules);
  const guess = books.joules.map((joules, i) => joules + (first.each[i] ?? 0) * seconds);
  const second = slopes(stores, paths, drive, guess);
  const joules = books.joules.map(
    (before, i) => before + ((first.each[i] ?? 0) + (second.each[i] ?? 0)) * 0.5 * seconds,
  );
  return {
    joules,
    supplied: books.supplied + drive.watts.reduce((sum, watts) => sum + watts, 0) * seconds,
    lost: books.lost + (first.lost + second.lost) * 0.5 * seconds,
  };
};
