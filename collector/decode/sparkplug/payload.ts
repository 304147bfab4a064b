// The protobuf payload of Sparkplug B (Eclipse Sparkplug 3.0, chapter 6; fields of sparkplug_b.proto) as far as
// temperatures need it, and the one command that a host sends. What is not read is skipped by its wire type.

import { BinaryReader, BinaryWriter, WireType } from '@bufbuild/protobuf/wire';
import { failure, type Result, success } from '../../../wax/result.ts';

/** Data types by the number that metrics carry. */
export const DATA_TYPE = {
  int8: 1,
  int16: 2,
  int32: 3,
  int64: 4,
  uint8: 5,
  uint16: 6,
  uint32: 7,
  uint64: 8,
  float: 9,
  double: 10,
  boolean: 11,
  string: 12,
  dateTime: 13,
  text: 14,
  uuid: 15,
  file: 18,
  template: 19,
} as const;

export interface SparkplugMetric {
  readonly name: string | null;
  readonly alias: string | null;
  /** Unix milliseconds. */
  readonly timestamp: number | null;
  readonly dataType: number | null;
  readonly isHistorical: boolean;
  /** The node marked that there is no value. */
  readonly isNull: boolean;
  readonly value: number | bigint | boolean | string | null;
  /** Text and numbers by key; nested sets are not read. */
  readonly properties: ReadonlyMap<string, string | number>;
  /** Null where the value is none. */
  readonly template: SparkplugTemplate | null;
}

export interface SparkplugTemplate {
  readonly members: readonly SparkplugMetric[];
  /** It describes what others of its kind hold, and measures nothing. */
  readonly isDefinition: boolean;
}

export interface SparkplugPayload {
  readonly timestamp: number | null;
  /** 0 to 255. */
  readonly seq: number | null;
  readonly uuid: string | null;
  readonly metrics: readonly SparkplugMetric[];
}

type Writable<T> = { -readonly [key in keyof T]: T[key] };
type FieldReaders<T> = Readonly<Record<number, (reader: BinaryReader, into: Writable<T>) => void>>;

/** Reads the fields that have a reader and skips the others. */
function readFields<T>(reader: BinaryReader, end: number, fields: FieldReaders<T>, into: Writable<T>): T {
  while (reader.pos < end) {
    const [field, wireType] = reader.tag();
    const read = fields[field];
    if (read === undefined) reader.skip(wireType, field);
    else read(reader, into);
  }
  if (reader.pos !== end) throw new RangeError('a field is longer than what holds it');
  return into;
}

const endOf = (reader: BinaryReader): number => {
  const length = reader.uint32();
  const end = reader.pos + length;
  if (end > reader.len) throw new RangeError('a field is longer than the message');
  return end;
};

interface Property {
  readonly value: string | number | null;
}
const PROPERTY: FieldReaders<Property> = {
  3: (reader, property) => {
    property.value = reader.uint32();
  },
  4: (reader, property) => {
    property.value = Number(reader.uint64());
  },
  5: (reader, property) => {
    property.value = reader.float();
  },
  6: (reader, property) => {
    property.value = reader.double();
  },
  8: (reader, property) => {
    property.value = reader.string();
  },
};

interface PropertySet {
  readonly keys: string[];
  readonly values: (string | number | null)[];
}
const PROPERTY_SET: FieldReaders<PropertySet> = {
  1: (reader, set) => {
    set.keys.push(reader.string());
  },
  2: (reader, set) => {
    set.values.push(readFields<Property>(reader, endOf(reader), PROPERTY, { value: null }).value);
  },
};

function propertiesOf({ keys, values }: PropertySet): ReadonlyMap<string, string | number> {
  return new Map(
    keys.flatMap((key, index): [string, string | number][] => {
      const value = values[index] ?? null;
      return value === null ? [] : [[key, value]];
    }),
  );
}

const METRIC: FieldReaders<SparkplugMetric> = {
  1: (reader, metric) => {
    metric.name = reader.string();
  },
  2: (reader, metric) => {
    metric.alias = String(reader.uint64());
  },
  3: (reader, metric) => {
    metric.timestamp = Number(reader.uint64());
  },
  4: (reader, metric) => {
    metric.dataType = reader.uint32();
  },
  5: (reader, metric) => {
    metric.isHistorical = reader.bool();
  },
  7: (reader, metric) => {
    metric.isNull = reader.bool();
  },
  9: (reader, metric) => {
    const set = readFields<PropertySet>(reader, endOf(reader), PROPERTY_SET, { keys: [], values: [] });
    metric.properties = propertiesOf(set);
  },
  10: (reader, metric) => {
    metric.value = reader.uint32();
  },
  11: (reader, metric) => {
    metric.value = BigInt(reader.uint64());
  },
  12: (reader, metric) => {
    metric.value = reader.float();
  },
  13: (reader, metric) => {
    metric.value = reader.double();
  },
  14: (reader, metric) => {
    metric.value = reader.bool();
  },
  15: (reader, metric) => {
    metric.value = reader.string();
  },
  18: (reader, metric) => {
    metric.template = readFields(reader, endOf(reader), TEMPLATE, { members: [], isDefinition: false });
  },
};

const readMetric = (reader: BinaryReader): SparkplugMetric =>
  readFields<SparkplugMetric>(reader, endOf(reader), METRIC, {
    name: null,
    alias: null,
    timestamp: null,
    dataType: null,
    isHistorical: false,
    isNull: false,
    value: null,
    properties: new Map(),
    template: null,
  });

const TEMPLATE: FieldReaders<Writable<SparkplugTemplate> & { members: SparkplugMetric[] }> = {
  2: (reader, template) => {
    template.members.push(readMetric(reader));
  },
  5: (reader, template) => {
    template.isDefinition = reader.bool();
  },
};

const PAYLOAD: FieldReaders<Writable<SparkplugPayload> & { metrics: SparkplugMetric[] }> = {
  1: (reader, payload) => {
    payload.timestamp = Number(reader.uint64());
  },
  2: (reader, payload) => {
    payload.metrics.push(readMetric(reader));
  },
  3: (reader, payload) => {
    payload.seq = Number(reader.uint64());
  },
  4: (reader, payload) => {
    payload.uuid = reader.string();
  },
};

export function sparkplugPayload(bytes: Uint8Array): Result<SparkplugPayload> {
  try {
    const reader = new BinaryReader(bytes);
    return success(
      readFields(reader, reader.len, PAYLOAD, { timestamp: null, seq: null, uuid: null, metrics: [] }),
    );
  } catch (error) {
    return failure('sparkplug-not-protobuf', { reason: (error as Error).message.slice(0, 120) });
  }
}

const SIGNED_BITS: Readonly<Record<number, number>> = {
  [DATA_TYPE.int8]: 8,
  [DATA_TYPE.int16]: 16,
  [DATA_TYPE.int32]: 32,
  [DATA_TYPE.int64]: 64,
};

/** The number of a metric: signed types travel as two's complement in an unsigned field. Null when it is none. */
export function metricNumber(value: SparkplugMetric['value'], dataType: number | null): number | null {
  if (typeof value !== 'number' && typeof value !== 'bigint') return null;
  const bits = SIGNED_BITS[dataType ?? 0];
  if (bits === undefined || (typeof value === 'number' && !Number.isInteger(value))) return Number(value);
  return Number(BigInt.asIntN(bits, BigInt(value)));
}

/** Asks an edge node for its birth messages (3.0, 6.4.16): `Node Control/Rebirth` set to true. */
export function rebirthCommand(now: number): Uint8Array {
  const metric = new BinaryWriter()
    .tag(1, WireType.LengthDelimited)
    .string('Node Control/Rebirth')
    .tag(3, WireType.Varint)
    .uint64(now)
    .tag(4, WireType.Varint)
    .uint32(DATA_TYPE.boolean)
    .tag(14, WireType.Varint)
    .bool(true)
    .finish();
  return new BinaryWriter()
    .tag(1, WireType.Varint)
    .uint64(now)
    .tag(2, WireType.LengthDelimited)
    .bytes(metric)
    .finish();
}
