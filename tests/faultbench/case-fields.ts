// What stations.json and truth.json of a case hold, in whatever reasonable spelling, as the shape that the bench works
// with. A field that is missing or of another type is refused with its place.

import type { CaseProbe, CaseStation, TrueFault, CaseHours } from '../../simulators/cases/case.ts';

export class CaseRefusal extends Error {
  /** @param where file and field, `stations.json: stations[0].kind` */
  constructor(where: string, expected: string) {
    super(`${where}: expected ${expected}`);
    this.name = 'CaseRefusal';
  }
}

/** What was requested of the bench cannot be done. */
export class UsageRefusal extends Error {}

type Fields = Readonly<Record<string, unknown>>;

export const fieldsOf = (value: unknown, where: string): Fields => {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new CaseRefusal(where, 'an object');
  return value as Fields;
};
export const listOf = (value: unknown, where: string): readonly unknown[] => {
  if (!Array.isArray(value)) throw new CaseRefusal(where, 'a list');
  return value;
};
export const textOf = (value: unknown, where: string): string => {
  if (typeof value !== 'string' || value === '') throw new CaseRefusal(where, 'a text');
  return value;
};
/** Epoch milliseconds. */
export const instantOf = (value: unknown, where: string): number => {
  const millis = Date.parse(textOf(value, where));
  if (Number.isNaN(millis)) throw new CaseRefusal(where, 'an instant as 2026-02-09T23:00:00.000Z');
  return millis;
};
const numberOf = (value: unknown, where: string): number => {
  if (typeof value !== 'number' || !Number.isFinite(value)) throw new CaseRefusal(where, 'a number');
  return value;
};
const pairOf = (value: unknown, where: string): readonly [number, number] => {
  const [low, high] = listOf(value, where);
  return [numberOf(low, where), numberOf(high, where)];
};

const isNothing = (value: unknown): value is null | undefined => value === null || value === undefined;

const probe = (value: unknown, where: string): CaseProbe => {
  const fields = fieldsOf(value, where);
  return {
    id: textOf(fields.id, `${where}.id`),
    where: typeof fields.where === 'string' ? fields.where : '',
    gateway: textOf(fields.gateway, `${where}.gateway`),
    resolution_kelvin: isNothing(fields.resolution_kelvin)
      ? 0.1
      : numberOf(fields.resolution_kelvin, `${where}.resolution_kelvin`),
    seconds: isNothing(fields.seconds) ? 60 : numberOf(fields.seconds, `${where}.seconds`),
  };
};

/** `["12:00", "13:00"]`, `{from, to}`, or a list of either. */
const pauses = (value: unknown, where: string): readonly (readonly [string, string])[] => {
  if (isNothing(value)) return [];
  const all = Array.isArray(value) && typeof value[0] !== 'string' ? value : [value];
  return all.map((pause): readonly [string, string] => {
    const [from, to] = Array.isArray(pause)
      ? pause
      : [fieldsOf(pause, where).from, fieldsOf(pause, where).to];
    return [textOf(from, where), textOf(to, where)];
  });
};

const hours = (value: unknown, where: string): CaseHours | string => {
  if (isNothing(value)) return 'not said';
  if (typeof value === 'string') return value;
  const fields = fieldsOf(value, where);
  return {
    time_zone: typeof fields.time_zone === 'string' ? fields.time_zone : '',
    days: listOf(fields.days ?? ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'], `${where}.days`).map((day) =>
      textOf(day, `${where}.days`),
    ),
    from: textOf(fields.from, `${where}.from`),
    to: textOf(fields.to, `${where}.to`),
    pauses: pauses(fields.pauses, `${where}.pauses`),
  };
};

/** The first number among the fields whose name matches. */
const numberNamed = (fields: Fields, pattern: RegExp): number | undefined => {
  for (const [name, value] of Object.entries(fields))
    if (pattern.test(name) && typeof value === 'number') return value;
  return undefined;
};

const windowOf = (fields: Fields, where: string): readonly [number, number] | undefined => {
  if (Array.isArray(fields.window_celsius)) return pairOf(fields.window_celsius, `${where}.window_celsius`);
  const low = fields.window_low_celsius ?? fields.low_celsius;
  const high = fields.window_high_celsius ?? fields.high_celsius;
  return typeof low === 'number' && typeof high === 'number' ? [low, high] : undefined;
};

const optional = <Name extends string, Value>(name: Name, value: Value | undefined) =>
  (value === undefined ? {} : { [name]: value }) as { readonly [key in Name]?: Value };

export const caseStation = (value: unknown, where: string): CaseStation => {
  const fields = fieldsOf(value, where);
  const number = (name: string) =>
    isNothing(fields[name]) ? undefined : numberOf(fields[name], `${where}.${name}`);
  const melting = fields.melting_range_celsius;
  return {
    id: textOf(fields.id, `${where}.id`),
    kind: textOf(fields.kind, `${where}.kind`),
    probes: listOf(fields.probes, `${where}.probes`).map((fieldsOfProbe, index) =>
      probe(fieldsOfProbe, `${where}.probes[${index}]`),
    ),
    wax: typeof fields.wax === 'string' ? fields.wax : '',
    set_celsius: number('set_celsius') ?? null,
    ceiling_celsius: number('ceiling_celsius') ?? null,
    hours: hours(fields.hours, `${where}.hours`),
    ready_by: typeof fields.ready_by === 'string' ? fields.ready_by : null,
    control: typeof fields.control === 'string' ? fields.control : 'not said',
    ...optional(
      'melting_range_celsius',
      isNothing(melting) ? undefined : pairOf(melting, `${where}.melting_range_celsius`),
    ),
    ...optional('charge_since', typeof fields.charge_since === 'string' ? fields.charge_since : undefined),
    ...optional(
      'charge_limit_equivalent_hours_at_70_celsius',
      number('charge_limit_equivalent_hours_at_70_celsius'),
    ),
    ...optional('window_celsius', windowOf(fields, where)),
    ...optional('soak_minutes', numberNamed(fields, /soak/)),
    ...optional('uneven_limit_kelvin', numberNamed(fields, /uneven|zone/)),
    ...optional('low_celsius', number('low_celsius')),
    ...optional('high_celsius', number('high_celsius')),
    ...optional('swing_limit_kelvin_in_24_h', number('swing_limit_kelvin_in_24_h')),
  };
};

export const trueFault = (value: unknown, where: string): TrueFault => {
  const { station, fault, begins, harm, ends } = fieldsOf(value, where);
  for (const [name, instant] of [
    ['begins', begins],
    ['ends', ends],
    ...(isNothing(harm) ? [] : ([['harm', harm]] as const)),
  ] as const)
    instantOf(instant, `${where}.${name}`);
  return {
    station: textOf(station, `${where}.station`),
    fault: textOf(fault, `${where}.fault`),
    begins: String(begins),
    harm: isNothing(harm) ? null : String(harm),
    ends: String(ends),
  };
};
