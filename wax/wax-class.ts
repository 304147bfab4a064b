// A wax class by its id, with the lab's own values over the table's. What a lab overrides keeps saying so.

import { WAX_CLASSES } from './classes/table.ts';
import { failure, problemLine, type Result, success } from './result.ts';
import { checkWaxClass } from './wax-class-checks.ts';
import type { WaxClassId } from './classes/wax-class-id.ts';
import type { WaxClass } from './classes/wax-properties.ts';
import { isWaxValue, labsOwn } from './classes/wax-value.ts';

export type { WaxClass } from './classes/wax-properties.ts';
export type { Source, Standing, WaxSpan, WaxValue } from './classes/wax-value.ts';

/** By dotted name of the value: `ceiling`, `workingWindow.low`, `expansion.0.coefficient`. */
export type WaxOverrides = Readonly<Record<string, number>>;

const namesUnder = (thing: unknown, path: string): readonly string[] => {
  if (isWaxValue(thing)) return [path];
  if (typeof thing !== 'object' || thing === null) return [];
  return Object.entries(thing).flatMap(([key, value]) =>
    namesUnder(value, path === '' ? key : `${path}.${key}`),
  );
};

/** Dotted names of all values of the class, in the order of the table. */
export const waxValueNames = (id: WaxClassId): readonly string[] => namesUnder(WAX_CLASSES[id], '');

const replaced = (thing: unknown, path: readonly string[], value: number): unknown => {
  if (isWaxValue(thing)) return labsOwn(value, thing);
  const [head, ...rest] = path;
  if (Array.isArray(thing)) {
    return thing.map((item: unknown, index) => (String(index) === head ? replaced(item, rest, value) : item));
  }
  if (typeof thing !== 'object' || thing === null || head === undefined) return thing;
  return { ...thing, [head]: replaced((thing as Record<string, unknown>)[head], rest, value) };
};

/** The class with the lab's own values, or why one of them is refused: unknown name, no number, contradiction. */
export const checkedWaxClass = (id: WaxClassId, overrides: WaxOverrides = {}): Result<WaxClass> => {
  const table = WAX_CLASSES[id];
  if (table === undefined) return failure('wax-class-unknown', { wax: id }, id);
  const names = waxValueNames(id);
  let changed: WaxClass = table;
  for (const [name, value] of Object.entries(overrides)) {
    if (!names.includes(name)) {
      return failure('wax-value-unknown', { wax: id, name, names: names.join(', ') }, name, name);
    }
    // Sound: a WaxValue is put in the place of a WaxValue, nothing else changes.
    changed = replaced(changed, name.split('.'), value) as WaxClass;
  }
  const refused = checkWaxClass(changed);
  return refused === null ? success(changed) : { ok: false, problem: refused };
};

/**
 * The class with the lab's own values.
 * @throws RangeError for overrides that `checkedWaxClass` refuses; check what comes from outside with that one.
 */
export const waxClass = (id: WaxClassId, overrides?: WaxOverrides): WaxClass => {
  const result = checkedWaxClass(id, overrides);
  if (!result.ok) throw new RangeError(`waxClass: ${problemLine(result.problem)}`);
  return result.value;
};
