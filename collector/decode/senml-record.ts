// The fields of SenML (RFC 8428, section 4 and table 1) with their JSON types, and a pack checked against them.
// A wrong base field or an unknown mandatory one spoils the pack, because every later record hangs on it; a field of a
// wrong type in one record spoils that record alone.

import { failure, type Problem, problem, type Result, success } from '../../wax/result.ts';

export interface SenmlRecord {
  readonly bn?: string;
  readonly bt?: number;
  readonly bu?: string;
  readonly bv?: number;
  readonly bs?: number;
  readonly bver?: number;
  readonly n?: string;
  readonly u?: string;
  readonly v?: number;
  readonly vs?: string;
  readonly vb?: boolean;
  readonly vd?: string;
  readonly s?: number;
  readonly t?: number;
  readonly ut?: number;
}

/** A record that cannot be used itself; its base fields still count for those behind it. */
export class SpoiltRecord {
  readonly fields: SenmlRecord;
  readonly problem: Problem;

  constructor(fields: SenmlRecord, problem: Problem) {
    this.fields = fields;
    this.problem = problem;
  }
}

export type CheckedRecord = SenmlRecord | SpoiltRecord;

const FIELD_TYPES: Record<keyof SenmlRecord, 'string' | 'number' | 'boolean'> = {
  bn: 'string',
  bt: 'number',
  bu: 'string',
  bv: 'number',
  bs: 'number',
  bver: 'number',
  n: 'string',
  u: 'string',
  v: 'number',
  vs: 'string',
  vb: 'boolean',
  vd: 'string',
  s: 'number',
  t: 'number',
  ut: 'number',
};

const TYPE_OF_LABEL: ReadonlyMap<string, 'string' | 'number' | 'boolean'> = new Map(
  Object.entries(FIELD_TYPES),
);

/** RFC 8428. From it on the number is a set of features, one bit each (RFC 9100, 2). */
const SENML_VERSION = 10;
/** Secondary units (RFC 8798), of which those that probes are sent in are understood. */
const SECONDARY_UNITS = 1 << 4;
const VERSIONS: ReadonlySet<number> = new Set([SENML_VERSION, SENML_VERSION | SECONDARY_UNITS]);

/** Nested values by their kind alone: writing out a deep one could exhaust the stack. */
const describeValue = (value: unknown): string =>
  typeof value !== 'object' || value === null
    ? JSON.stringify(value)
    : Array.isArray(value)
      ? 'an array'
      : 'an object';

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isBase = (label: string): boolean => label.startsWith('b');

/** `record` counts from 1, as a person counts. */
const checkRecord = (value: unknown, record: number): Result<CheckedRecord> => {
  if (!isRecord(value)) return failure('senml-record', { record }, describeValue(value));
  let wrong: Problem | null = null;
  for (const label of Object.keys(value)) {
    const field = value[label];
    const type = TYPE_OF_LABEL.get(label);
    if (type !== undefined) {
      const fits = typeof field === type && (type !== 'number' || Number.isFinite(field));
      if (fits) continue;
      const faulty = problem('senml-field', { name: label, record, type }, describeValue(field));
      if (isBase(label)) return { ok: false, problem: faulty };
      wrong ??= faulty;
    } else if (label.endsWith('_')) return failure('senml-must-understand', { record, name: label });
  }
  const checked: SenmlRecord = value;
  const { bver } = checked;
  if (bver !== undefined && !(Number.isInteger(bver) && bver > 0))
    return failure('senml-field', { name: 'bver', record, type: 'version' }, bver);
  if (bver !== undefined && bver > SENML_VERSION && !VERSIONS.has(bver))
    return failure('senml-version', { most: SENML_VERSION }, bver);
  return success(wrong === null ? checked : new SpoiltRecord(checked, wrong));
};

const fieldsOf = (record: CheckedRecord): SenmlRecord =>
  record instanceof SpoiltRecord ? record.fields : record;

/** A pack as parsed from JSON; the CBOR form has the same fields once its labels are named. */
export const checkPack = (pack: unknown): Result<readonly CheckedRecord[]> => {
  if (!Array.isArray(pack) || pack.length === 0) return failure('senml-not-a-pack');
  const records: CheckedRecord[] = [];
  let version: number | undefined;
  let isOneVersion = true;
  for (const value of pack) {
    const record = checkRecord(value, records.length + 1);
    if (!record.ok) return record;
    const { bver } = fieldsOf(record.value);
    if (bver !== undefined && version !== undefined && bver !== version) isOneVersion = false;
    version ??= bver;
    records.push(record.value);
  }
  return isOneVersion ? success(records) : failure('senml-version');
};
