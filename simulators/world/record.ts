// What was true at a place, by the second: each spot a column of equally spaced values.

export interface PlaceRecord {
  readonly station: string;
  /** Instant of the first value. */
  readonly from: number;
  readonly stepMillis: number;
  readonly spots: Readonly<Record<string, Float32Array>>;
}

const EMPTY = new Float32Array(0);

export const column = (record: PlaceRecord, spot: string): Float32Array => {
  const values = record.spots[spot];
  if (values === undefined) throw new RangeError(`${record.station} has no spot named ${spot}`);
  return values;
};

/** Index of the last value at or before an instant, within the record. */
export const indexAt = (record: PlaceRecord, at: number): number => {
  const length = (Object.values(record.spots)[0] ?? EMPTY).length;
  return Math.min(length - 1, Math.max(0, Math.floor((at - record.from) / record.stepMillis)));
};
