// Resolves a SenML pack (RFC 8428, section 4.6): base fields folded in, times absolute, records in order of time.
// A record that cannot stand alone is a problem of its own; the others go on.

import { failure, type Problem, type Result, success } from '../../wax/result.ts';
import { type CheckedRecord, type SenmlRecord, SpoiltRecord } from './senml-record.ts';

export interface ResolvedRecord {
  readonly name: string;
  readonly unit: string | null;
  readonly value: number | string | boolean | { readonly base64url: string } | null;
  readonly sum: number | null;
  /** Unix seconds. */
  readonly time: number;
  /** Whether the pack gave the instant, or it follows from the time of arrival. */
  readonly timeIsAbsolute: boolean;
}

export interface ResolvedPack {
  readonly records: readonly ResolvedRecord[];
  readonly problems: readonly Problem[];
}

/** Seconds; sums below are relative to now, from it on they are Unix time (RFC 8428, 4.5.3). */
const ABSOLUTE_FROM_SECONDS = 2 ** 28;
/** RFC 8428, 4.5.1. */
const NAME = /^[A-Za-z0-9][A-Za-z0-9\-:./_]*$/;

interface Base {
  readonly name: string;
  readonly time: number;
  readonly unit: string | null;
  readonly value: number | null;
  readonly sum: number | null;
}
const NO_BASE: Base = { name: '', time: 0, unit: null, value: null, sum: null };

const rebase = (base: Base, record: SenmlRecord): Base => ({
  name: record.bn ?? base.name,
  time: record.bt ?? base.time,
  unit: record.bu ?? base.unit,
  value: record.bv ?? base.value,
  sum: record.bs ?? base.sum,
});

/** Sums of decimal fractions carry binary noise in the last digits; fifteen are all that a double holds surely. */
const plus = (base: number | null, own: number | undefined): number =>
  base === null ? (own ?? 0) : Number((base + (own ?? 0)).toPrecision(15));

const recordValue = (base: Base, record: SenmlRecord): ResolvedRecord['value'] => {
  if (record.vs !== undefined) return record.vs;
  if (record.vb !== undefined) return record.vb;
  if (record.vd !== undefined) return { base64url: record.vd };
  return record.v === undefined && base.value === null ? null : plus(base.value, record.v);
};

const valuesIn = ({ v, vs, vb, vd }: SenmlRecord): number =>
  Number(v !== undefined) + Number(vs !== undefined) + Number(vb !== undefined) + Number(vd !== undefined);

const resolveRecord = (
  base: Base,
  record: SenmlRecord,
  now: number,
  index: number,
): Result<ResolvedRecord> => {
  const name = base.name + (record.n ?? '');
  if (!NAME.test(name)) return failure('senml-name', { record: index + 1 }, name);
  const count = valuesIn(record);
  if (count > 1) return failure('senml-two-values', { record: index + 1, count });
  const sum = record.s === undefined && base.sum === null ? null : plus(base.sum, record.s);
  const value = recordValue(base, record);
  if (value === null && sum === null) return failure('senml-no-value', { record: index + 1 });
  const total = base.time + (record.t ?? 0);
  const timeIsAbsolute = total >= ABSOLUTE_FROM_SECONDS;
  return success({
    name,
    unit: record.u ?? base.unit,
    value,
    sum,
    time: timeIsAbsolute ? total : now + total,
    timeIsAbsolute,
  });
};

/** `now` in Unix seconds: when the pack arrived. */
export const resolveSenml = (pack: readonly CheckedRecord[], now: number): ResolvedPack => {
  const records: ResolvedRecord[] = [];
  const problems: Problem[] = [];
  let base = NO_BASE;
  for (let index = 0; index < pack.length; index += 1) {
    const record = pack[index];
    if (record === undefined) continue;
    if (record instanceof SpoiltRecord) {
      base = rebase(base, record.fields);
      problems.push(record.problem);
      continue;
    }
    base = rebase(base, record);
    const resolved = resolveRecord(base, record, now, index);
    if (resolved.ok) records.push(resolved.value);
    else problems.push(resolved.problem);
  }
  if (records.length > 1) records.sort((a, b) => a.time - b.time);
  return { records, problems };
};
