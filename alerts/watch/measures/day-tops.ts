// What a pot that goes off overnight showed on its last day, for the next one.

/** Tops of the first and of the last hours of a day at work, °C. */
export interface DayTops {
  readonly first: number;
  readonly last: number;
  /** When it was over, epoch milliseconds. */
  readonly endedAt: number;
}
