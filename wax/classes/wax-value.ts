// One figure of the science with where it comes from. A figure without a source cannot be written down here.

export const STANDINGS = [
  'published',
  'common practice',
  'from memory',
  "maker's sheet",
  "lab's own",
] as const;

/**
 * `published`: read in the named standard, paper or table. `from memory`: believed to be in the named
 * publication, not read there. `common practice`: usual in the trade or assumed, without a publication.
 * `maker's sheet`: typed in by the lab from the sheet of one lot. `lab's own`: set by this lab.
 */
export type Standing = (typeof STANDINGS)[number];

/**
 * Where a figure comes from: a code whose text is in the words of each language under `source.`, with the values
 * that the text is filled in with; the ending of a value's name is its unit.
 * @example { code: 'craig-1965-span', values: { from_celsius: 20, to_celsius: 28 } }
 */
export interface Source {
  readonly code: string;
  readonly values?: Readonly<Record<string, number | string>>;
}

export interface WaxValue {
  readonly value: number;
  readonly standing: Standing;
  readonly source: Source;
}

/** Two ends of one range, each with its own source. */
export interface WaxSpan {
  readonly low: WaxValue;
  readonly high: WaxValue;
}

const of =
  (standing: Standing) =>
  (value: number, code: string, values?: Source['values']): WaxValue => ({
    value,
    standing,
    source: values === undefined ? { code } : { code, values },
  });

export const published = of('published');
export const fromMemory = of('from memory');
export const commonPractice = of('common practice');

/** The code of a source that names another figure: its value, standing and source. */
const SET_INSTEAD = 'set-instead';

/** A lab's own value with what it stands instead of, whose source keeps its values. */
export const labsOwn = (value: number, instead: WaxValue): WaxValue => {
  const { code, values } =
    instead.source.code === SET_INSTEAD ? { code: 'set-by-lab', values: {} } : instead.source;
  return {
    value,
    standing: "lab's own",
    source: {
      code: SET_INSTEAD,
      values: {
        ...values,
        instead_value: instead.value,
        instead_standing: instead.standing,
        instead_source: code,
      },
    },
  };
};

/** What the maker's sheet of one lot states, as the lab typed it in. */
export const fromSheet = (value: number, maker: string, lot: string): WaxValue => ({
  value,
  standing: "maker's sheet",
  source: { code: 'sheet-of-lot', values: { maker, lot } },
});

export const span = (make: typeof published, low: number, high: number, code: string): WaxSpan => ({
  low: make(low, code),
  high: make(high, code),
});

/** From the weakest source to the strongest; what is computed from several figures rests on the weakest. */
const BY_STRENGTH: readonly Standing[] = [
  'common practice',
  'from memory',
  'published',
  "maker's sheet",
  "lab's own",
];

export const weakestOf = (...standings: readonly Standing[]): Standing =>
  BY_STRENGTH.find((standing) => standings.includes(standing)) ?? 'common practice';

export const weakestStanding = (...values: readonly WaxValue[]): Standing =>
  weakestOf(...values.map(({ standing }) => standing));

export const isWaxValue = (thing: unknown): thing is WaxValue =>
  typeof thing === 'object' && thing !== null && 'standing' in thing && 'source' in thing && 'value' in thing;
