// How the lab file spells its keys: snake_case throughout, with the unit where a number has one. The lab itself and
// the interface spell fields in camelCase, and so did older lab files; those are still read.

import { isWaxClassId, type WaxClassId } from '../../wax/classes/wax-class-id.ts';
import { ownEntry } from '../../wax/own-entry.ts';
import { waxValueNames } from '../../wax/wax-class.ts';

/** Fields whose key in the file is another word than the field. */
const KEY_OF_FIELD: Readonly<Record<string, string>> = {
  timeZone: 'time_zone',
  workingHours: 'working_hours',
  powersOnAt85: 'powers_on_at_85_celsius',
  calibrationDue: 'calibration_due',
  retiredOn: 'retired_on',
  temperatureUnit: 'temperature_unit',
  hourCycle: 'hour_cycle',
  namesOnLockScreen: 'names_on_lock_screen',
  morningHeartbeat: 'morning_heartbeat',
  notificationPlan: 'notification_plan',
  startsOn: 'starts_on',
  handoverTime: 'handover_time',
  afterMinutes: 'after_minutes',
  outsideHours: 'outside_hours',
  heartbeatAt: 'heartbeat_at',
  lampTopics: 'lamp_topics',
  waxOverrides: 'wax_overrides',
  patternCare: 'pattern_care',
};
const FIELD_OF_KEY: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(KEY_OF_FIELD).map(([field, key]) => [key, field]),
);
/** Keys of older files that were never fields of today. */
const OLD_KEYS: Readonly<Record<string, string>> = { telling: 'notification_plan' };
const WAX_OVERRIDES = 'wax_overrides';
/** Below these the names are those of rules and their figures, not of fields. */
const RULES = 'rules';

export const keyOfField = (field: string): string => ownEntry(KEY_OF_FIELD, field) ?? field;

/** Units of the values of a wax class by their dotted name; a value that matches none is a pure number. */
const WAX_UNITS: readonly (readonly [name: RegExp, unit: string])[] = [
  [/^(\w+Window|transition|melting)\.(low|high)$/, 'celsius'],
  [/^(ceiling|storageMax|measuredTo|expansion\.\d+\.from|(kinetics|relaxation)\.reference)$/, 'celsius'],
  [/^flow\.\d+\.(atLeast|atMost)$/, 'percent'],
  [/^expansion\.\d+\.coefficient$/, 'per_kelvin'],
  [/^(expansionLimits\.\d+\.atMost|solidificationShrinkage|relaxation\.frozenStrain\.[\w-]+)$/, 'fraction'],
  [/^conductivity\./, 'watts_per_metre_kelvin'],
  [/^density\./, 'kilograms_per_cubic_metre'],
  [/^heatCapacity\./, 'joules_per_kilogram_kelvin'],
  [/^latentHeat$/, 'joules_per_kilogram'],
  [/\.(activationEnergy|evaporationEnthalpy)$/, 'joules_per_mole'],
  [/^doseAllowance$/, 'hours'],
  [/^relaxation\.tau$/, 'seconds'],
];

/** @example waxValueKey('potWindow.low') // 'pot_window.low_celsius' */
export function waxValueKey(name: string): string {
  const unit = WAX_UNITS.find(([pattern]) => pattern.test(name))?.[1];
  const words = name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);
  return unit === undefined ? words : `${words}_${unit}`;
}

/** Keys under which the file may give values of the class, with the dotted name of each. */
export const waxValuesByKey = (id: WaxClassId): ReadonlyMap<string, string> =>
  new Map(waxValueNames(id).map((name) => [waxValueKey(name), name]));

/** The key of today for one of an older file; null for what never was the old spelling of a key. */
export function newSpelling(path: readonly (string | number)[], key: string): string | null {
  if (path.includes(RULES)) return null;
  const [section, wax] = path;
  if (section !== WAX_OVERRIDES) return ownEntry(KEY_OF_FIELD, key) ?? ownEntry(OLD_KEYS, key) ?? null;
  const isOldName = path.length === 2 && isWaxClassId(wax) && waxValueNames(wax).includes(key);
  return isOldName && waxValueKey(key) !== key ? waxValueKey(key) : null;
}

type Rename = (path: readonly string[], name: string) => string;

const renameKeys = (value: unknown, rename: Rename, path: readonly string[] = []): unknown => {
  if (Array.isArray(value)) return value.map((item) => renameKeys(item, rename, path));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, child]) => {
      const newName = path.includes(RULES) ? name : rename(path, name);
      return [newName, renameKeys(child, rename, [...path, name])];
    }),
  );
};

/** The described lab with its fields spelled as keys of the file. */
export const inFileSpelling = (lab: unknown): unknown =>
  renameKeys(lab, (path, name) =>
    path[0] === 'waxOverrides' ? (path.length === 2 ? waxValueKey(name) : name) : keyOfField(name),
  );

/** The content of a file with its keys spelled as fields of the lab; keys that nothing stands for stay. */
export const inFieldSpelling = (file: unknown): unknown =>
  renameKeys(file, (path, key) => {
    const [section, wax] = path;
    if (section !== WAX_OVERRIDES) return ownEntry(FIELD_OF_KEY, key) ?? key;
    return (path.length === 2 && isWaxClassId(wax) && waxValuesByKey(wax).get(key)) || key;
  });

/** A JSON schema of the described lab as one of the lab file; descriptions name the keys of the file. */
export function schemaInFileSpelling(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(schemaInFileSpelling);
  if (typeof schema !== 'object' || schema === null) return schema;
  return Object.fromEntries(
    Object.entries(schema).map(([keyword, value]) => {
      if (keyword === 'properties')
        return [
          keyword,
          Object.fromEntries(
            Object.entries(value).map(([field, child]) => [keyOfField(field), schemaInFileSpelling(child)]),
          ),
        ];
      if (keyword === 'required') return [keyword, (value as readonly string[]).map(keyOfField)];
      if (keyword === 'description') return [keyword, String(value).replace(/\w+/g, keyOfField)];
      return [keyword, schemaInFileSpelling(value)];
    }),
  );
}
