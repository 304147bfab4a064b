// The fields of SenML (RFC 8428, section 4 and table 1) with their JSON types, and a pack checked against them.
// A wrong base field or an unknown mandatory one spoils the pack, because every later record hangs on it; what is
// wrong in one record alone is left to the resolver.

import { failure, type Result, success } from '../../wax/result.ts';

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

/** RFC 8428 defines 10; RFC 8798 adds feature bits above it that we do not understand. */
const SENML_VERSION = 10;

/** Nested values by their kind alone: writing out a deep one could exhaust the stack. */
const described = (value: unknown): string =>
  typeof value !== 'object' || value === null
    ? JSON.stringify(value)
    : Array.isArray(value)
      ? 'an array'
      : 'an object';

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** `record` counts from 1, as a person counts. */
const checkedRecord = (value: unknown, record: number): Result<SenmlRecord> => {
  if (!isRecord(value)) return failure('senml-record', { record }, described(value));
  for (const label of Object.keys(value)) {
    const field = value[label];
    const type = TYPE_OF_LABEL.get(label);
    if (type !== undefined) {
      const fits = typeof field === type && (type !== 'number' || Number.isFinite(field));
      if (!fits) return failure('senml-field', { name: label, record, type }, described(field));
    } else if (label.endsWith('_')) return failure('senml-must-understand', { record, name: label });
  }
  const checked: SenmlRecord = value;
  const { bver } = checked;
  if (bver !== undefined && !(Number.isInteger(bver) && bver > 0))
    return failure('senml-field', { name: 'bver', record, type: 'version' }, bver);
  if (bver !== undefined && bver > SENML_VERSION)
    return failure('senml-version', { most: SENML_VERSION }, bver);
  return success(checked);
};

/** A pack as parsed from JSON; the CBOR form has the same fields once its labels are named. */
export const checkedPack = (pack: unknown): Result<readonly SenmlRecord[]> => {
  if (!Array.isArray(pack) || pack.length === 0) return failure('senml-not-a-pack');
  const records: SenmlRecord[] = [];
  let version: number | undefined;
  let isOneVersion = true;
  for (const value of pack) {
    const record = checkedRecord(value, records.length + 1);
    if (!record.ok) return record;
    const { bver } = record.value;
    if (bver !== undefined && version !== undefined && bver !== version) isOneVersion = false;
    version ??= bver;
    records.push(record.value);
  }
  return isOneVersion ? success(records) : failure('senml-version');
};
