// A wax class by its id, with the lab's own values over the table's. What a lab overrides stays marked as its own.

import { WAX_CLASSES } from './classes/table.ts';
import { failure, problemLine, type Result, success } from './result.ts';
import { checkWaxClass } from './wax-class-checks.ts';
import type { WaxClassId } from './classes/wax-class-id.ts';
import type { FlowLimit, WaxClass } from './classes/wax-properties.ts';
import { fromSheet, isWaxValue, labsOwn, type WaxValue } from './classes/wax-value.ts';

export type { WaxClass } from './classes/wax-properties.ts';
export type { Source, Standing, WaxSpan, WaxValue } from './classes/wax-value.ts';

/** By dotted name of the value: `ceiling`, `workingWindow.low`, `expansion.0.coefficient`. */
export type WaxOverrides = Readonly<Record<string, number>>;

/** What the maker states of one lot. */
export interface WaxSheet {
  readonly maker: string;
  readonly lot: string;
  readonly values: WaxOverrides;
}

const namesUnder = (node: unknown, path: string): readonly string[] => {
  if (isWaxValue(node)) return [path];
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([key, value]) =>
    namesUnder(value, path === '' ? key : `${path}.${key}`),
  );
};

/** Dotted names of all values of the class, in the order of the table. */
export const waxValueNames = (id: WaxClassId): readonly string[] => namesUnder(WAX_CLASSES[id], '');

/** What the class has under a dotted name; undefined where it has no such value. */
export const waxValueAt = (wax: WaxClass, name: string): WaxValue | undefined => {
  const found = name
    .split('.')
    .reduce<unknown>(
      (inner, part) =>
        typeof inner === 'object' && inner !== null && Object.hasOwn(inner, part)
          ? Reflect.get(inner, part)
          : undefined,
      wax,
    );
  return isWaxValue(found) ? found : undefined;
};

/** The test that a limit of flow belongs to, by the dotted name of the limit; undefined for any other value. */
export const flowTestOf = (wax: WaxClass, name: string): Pick<FlowLimit, 'test' | 'celsius'> | undefined => {
  const [list, position] = name.split('.');
  const limit = list === 'flow' ? wax.flow[Number(position)] : undefined;
  return limit && { test: limit.test, celsius: limit.celsius };
};

type Replace = (instead: WaxValue) => WaxValue;

const replaceValues = (node: unknown, path: readonly string[], replace: Replace): unknown => {
  if (isWaxValue(node)) return replace(node);
  const [head, ...rest] = path;
  if (Array.isArray(node)) {
    return node.map((item: unknown, index) =>
      String(index) === head ? replaceValues(item, rest, replace) : item,
    );
  }
  if (typeof node !== 'object' || node === null || head === undefined) return node;
  return { ...node, [head]: replaceValues((node as Record<string, unknown>)[head], rest, replace) };
};

/** What a sheet states of a wax: where it is worked, what it must not exceed, flow, expansion and melting. */
const ON_SHEETS =
  /^(workingWindow|potWindow|annealWindow|bathWindow|ceiling|melting|storageMax|flow|expansion)\b/;

/** Dotted names of the values that can be taken from a maker's sheet. */
export const sheetValueNames = (id: WaxClassId): readonly string[] =>
  waxValueNames(id).filter((name) => ON_SHEETS.test(name));

/**
 * The class with the lab's own values and over them those of a lot, or why one of them is refused: unknown name, no
 * number, contradiction.
 */
export const checkedWaxClass = (
  id: WaxClassId,
  overrides: WaxOverrides = {},
  sheet?: WaxSheet,
): Result<WaxClass> => {
  if (!Object.hasOwn(WAX_CLASSES, id)) return failure('wax-class-unknown', { wax: String(id) }, id);
  const table = WAX_CLASSES[id];
  const own = Object.entries(overrides).map(([name, value]) => ({
    name,
    allowed: waxValueNames(id),
    replace: (instead: WaxValue) => labsOwn(value, instead),
  }));
  const ofLot = Object.entries(sheet?.values ?? {}).map(([name, value]) => ({
    name,
    allowed: sheetValueNames(id),
    replace: () => fromSheet(value, sheet?.maker ?? '', sheet?.lot ?? ''),
  }));
  let changed: WaxClass = table;
  for (const { name, allowed, replace } of [...own, ...ofLot]) {
    if (!allowed.includes(name)) {
      return failure('wax-value-unknown', { wax: id, name, names: allowed.join(', ') }, name, name);
    }
    // Sound: a WaxValue is put in the place of a WaxValue, nothing else changes.
    changed = replaceValues(changed, name.split('.'), replace) as WaxClass;
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
