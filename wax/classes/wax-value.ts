// One figure of the science with where it comes from. A figure without a source cannot be written down here.

export const STANDINGS = ['published', 'common practice', 'from memory', "lab's own"] as const;

/**
 * `published`: read in the named standard, paper or table. `from memory`: believed to stand in the named
 * publication, not read there. `common practice`: usual in the trade or assumed, without a publication.
 * `lab's own`: set by this lab.
 */
export type Standing = (typeof STANDINGS)[number];

export interface WaxValue {
  readonly value: number;
  readonly standing: Standing;
  readonly source: string;
}

/** Two ends of one range, each with its own source. */
export interface WaxSpan {
  readonly low: WaxValue;
  readonly high: WaxValue;
}

const of =
  (standing: Standing) =>
  (value: number, source: string): WaxValue => ({ value, standing, source });

export const published = of('published');
export const fromMemory = of('from memory');
export const commonPractice = of('common practice');
export const labsOwn = (value: number, instead: WaxValue): WaxValue => ({
  value,
  standing: "lab's own",
  source: `instead of ${instead.value} (${instead.standing}: ${instead.source})`,
});

export const span = (
  make: (value: number, source: string) => WaxValue,
  low: number,
  high: number,
  source: string,
): WaxSpan => ({ low: make(low, source), high: make(high, source) });

/** From the weakest source to the strongest; what is computed from several figures stands on the weakest. */
const BY_STRENGTH: readonly Standing[] = ['common practice', 'from memory', 'published', "lab's own"];

export const weakestOf = (...standings: readonly Standing[]): Standing =>
  BY_STRENGTH.find((standing) => standings.includes(standing)) ?? 'common practice';

export const weakestStanding = (...values: readonly WaxValue[]): Standing =>
  weakestOf(...values.map(({ standing }) => standing));

export const isWaxValue = (thing: unknown): thing is WaxValue =>
  typeof thing === 'object' && thing !== null && 'standing' in thing && 'source' in thing && 'value' in thing;
