// What a chart shows, apart from how it is drawn: screens draw it with a chart library or as an SVG, the night sheet
// draws it on paper. All values are in the reader's unit, all texts in the reader's language. Pure.

/** `x` is an instant in epoch milliseconds or a value in the unit of its axis; without `y` the line is broken. */
export interface ChartPoint {
  readonly x: number;
  readonly y: number | null;
}

export interface BandPoint {
  readonly x: number;
  readonly low: number | null;
  readonly high: number | null;
}

export interface ChartAxis {
  readonly low: number;
  readonly high: number;
  /** A main one keeps its text where not all have room. */
  readonly ticks: readonly { readonly value: number; readonly text: string; readonly isMain?: boolean }[];
  /** What is counted and its unit, such as `°C`; empty where the ticks are times of day, which show it themselves. */
  readonly title: string;
  /** A value of this axis in full, with its unit: `71.3 °C`, `Tue 24 Nov, 14:03`. */
  readonly textOf: (value: number) => string;
}

export interface ChartSeries {
  /** Empty where the chart has but one line, which its title names. */
  readonly name: string;
  readonly points: readonly ChartPoint[];
  /** From the lowest to the highest value about the line; empty where there is none. */
  readonly band: readonly BandPoint[];
  /** Single measurements, drawn as marks of their own. */
  readonly dots: readonly ChartPoint[];
  /** Which dash and mark it has, from 0; series are distinguished by them and never by colour alone. */
  readonly style: number;
}

/** One upright bar from the lowest to the highest value, with a mark on it. */
export interface ChartRange {
  readonly x: number;
  readonly low: number;
  readonly high: number;
  readonly mark: number | null;
  readonly tone: 'plain' | 'medium' | 'high';
}

/** A level that must not be passed. */
export interface ChartLimit {
  readonly y: number;
  readonly text: string;
}

/** Something that happened at one instant. */
export interface ChartEvent {
  readonly id: string;
  readonly x: number;
  readonly text: string;
  readonly tone: 'plain' | 'low' | 'medium' | 'high' | 'urgent';
}

export interface Chart {
  /** Describes what is drawn for those who do not see it. */
  readonly label: string;
  readonly x: ChartAxis;
  readonly y: ChartAxis;
  /** The shaded working window; without `low` it has no lower end. */
  readonly window: { readonly low: number | null; readonly high: number } | null;
  readonly limits: readonly ChartLimit[];
  readonly series: readonly ChartSeries[];
  readonly ranges: readonly ChartRange[];
  readonly events: readonly ChartEvent[];
}

/** How the reader reads numbers and instants. Instants are epoch milliseconds. */
export interface ChartFormats {
  readonly unit: 'celsius' | 'fahrenheit';
  readonly timeZone: string;
  readonly number: (value: number, digits: number) => string;
  /** `14:00` */
  readonly clock: (at: number) => string;
  /** `Tue 24`, or with its month */
  readonly day: (at: number) => string;
  /** Day and time. */
  readonly moment: (at: number) => string;
}

export const toUnit = (celsius: number, { unit }: Pick<ChartFormats, 'unit'>): number =>
  unit === 'celsius' ? celsius : celsius * 1.8 + 32;
