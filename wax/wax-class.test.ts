import { describe, expect, it } from 'vitest';
import { checkWaxClass } from './wax-class-checks.ts';
import { checkedWaxClass, type WaxOverrides, type WaxValue, waxClass, waxValueNames } from './wax-class.ts';
import { WAX_CLASS_IDS, type WaxClassId } from './classes/wax-class-id.ts';
import { isWaxValue, weakestStanding } from './classes/wax-value.ts';

const valuesOf = (thing: unknown): readonly WaxValue[] => {
  if (isWaxValue(thing)) return [thing];
  return typeof thing === 'object' && thing !== null ? Object.values(thing).flatMap(valuesOf) : [];
};

describe('The table of wax classes', () => {
  it.each(WAX_CLASS_IDS)('has figures for %s that can all be true together', (id) => {
    expect(waxClass(id).id).toBe(id);
    expect(checkWaxClass(waxClass(id))).toBeNull();
  });

  it.each(WAX_CLASS_IDS)('gives every figure of %s a standing and a source', (id) => {
    const values = valuesOf(waxClass(id));
    expect(values.length).toBeGreaterThan(35);
    for (const { value, standing, source } of values) {
      expect(Number.isFinite(value)).toBe(true);
      expect(['published', 'common practice', 'from memory']).toContain(standing);
      expect(source.code).toMatch(/^[a-z0-9-]{4,}$/);
    }
  });

  it('marks every figure of ageing and relaxation as generic and uncalibrated', () => {
    for (const id of WAX_CLASS_IDS) {
      const { kinetics, doseAllowance, relaxation } = waxClass(id);
      const generic = [kinetics.activationEnergy, kinetics.reference, doseAllowance, ...valuesOf(relaxation)];
      for (const { source } of generic) expect(source.code).toMatch(/^generic-/);
    }
  });

  it.each(WAX_CLASS_IDS)('keeps a pot of %s from the end of melting on and below the ceiling', (id) => {
    const { potWindow, melting, ceiling } = waxClass(id);
    if (!potWindow) return;
    expect(potWindow.low.value).toBeGreaterThanOrEqual(melting.high.value);
    expect(ceiling.value).toBeGreaterThan(potWindow.high.value);
  });

  it.each(WAX_CLASS_IDS)('softens %s below its melting, or uses it wholly melted', (id) => {
    const { workingWindow, annealWindow, bathWindow, melting } = waxClass(id);
    for (const softening of [annealWindow, bathWindow])
      if (softening) expect(softening.high.value).toBeLessThan(melting.low.value);
    const isUsedMelted = workingWindow.low.value >= melting.high.value;
    if (!isUsedMelted) expect(workingWindow.high.value).toBeLessThanOrEqual(melting.low.value);
  });

  it.each(WAX_CLASS_IDS)('stores %s below its melting and its windows', (id) => {
    const { storageMax, melting, potWindow } = waxClass(id);
    expect(storageMax.value).toBeLessThan(melting.low.value);
    if (potWindow) expect(storageMax.value).toBeLessThan(potWindow.low.value);
  });

  it('gives boxing wax the softening point of its federal description, and a pot above it', () => {
    const { melting, potWindow } = waxClass('boxing');
    expect([melting.low.value, melting.high.value]).toEqual([65.6, 77.8]);
    expect(potWindow?.low.value).toBeGreaterThan(77.8);
  });

  it('lets inlay wax Type 1, which must be firm in the mouth, soften higher than Type 2', () => {
    const [type1, type2] = [waxClass('inlay-type-1'), waxClass('inlay-type-2')];
    expect(type1.transition.low.value).toBeGreaterThan(type2.transition.low.value);
    expect(type1.relaxation.reference.value).toBeGreaterThan(type2.relaxation.reference.value);
  });
});

describe("A lab's own values", () => {
  it('take the place of the table’s, are marked, and name what they replace', () => {
    const wax = waxClass('inlay-dip', {
      ceiling: 98,
      'workingWindow.low': 86,
      'expansion.0.coefficient': 3e-4,
    });
    expect(wax.ceiling).toMatchObject({ value: 98, standing: "lab's own" });
    expect(wax.ceiling.source).toEqual({
      code: 'set-instead',
      values: { instead_value: 100, instead_standing: 'common practice', instead_source: 'pot-maximum' },
    });
    expect(wax.workingWindow.low.value).toBe(86);
    expect(wax.workingWindow.high).toEqual(waxClass('inlay-dip').workingWindow.high);
    expect(wax.expansion[0]?.coefficient.value).toBe(3e-4);
    expect(waxClass('inlay-dip').ceiling.value).toBe(100);
  });

  it('can replace every value by its name, and change nothing else', () => {
    for (const id of WAX_CLASS_IDS) {
      const before = valuesOf(waxClass(id));
      waxValueNames(id).forEach((name, index) => {
        const after = valuesOf(waxClass(id, { [name]: before[index]?.value ?? Number.NaN }));
        expect(after.filter(({ standing }) => standing === "lab's own")).toHaveLength(1);
        expect(after[index]?.standing).toBe("lab's own");
      });
    }
  });

  it.each<readonly [string, WaxOverrides, string, string]>([
    ['an unknown name', { celing: 90 }, 'wax-value-unknown', 'celing'],
    ['a group instead of a value', { workingWindow: 90 }, 'wax-value-unknown', 'workingWindow'],
    ['a name of the language itself', { __proto__x: 1 }, 'wax-value-unknown', '__proto__x'],
    ['NaN', { ceiling: Number.NaN }, 'wax-value-refused', 'ceiling'],
    ['a ceiling below the pot window', { ceiling: 70 }, 'wax-value-refused', 'ceiling'],
    ['a window upside down', { 'workingWindow.low': 96 }, 'wax-value-refused', 'workingWindow.low'],
    ['an exponent above 1', { 'relaxation.beta': 1.1 }, 'wax-value-refused', 'relaxation.beta'],
    ['expansion pieces out of order', { 'expansion.0.from': 40 }, 'wax-value-refused', 'expansion.1.from'],
  ])('are refused by name: %s', (_, overrides, code, name) => {
    const result = checkedWaxClass('inlay-dip', overrides);
    expect(!result.ok && result.problem.code).toBe(code);
    expect(!result.ok && result.problem.field).toBe(name);
    expect(() => waxClass('inlay-dip', overrides)).toThrow(RangeError);
  });

  it('of a class that does not exist are refused', () => {
    const result = checkedWaxClass('earwax' as WaxClassId);
    expect(!result.ok && result.problem.code).toBe('wax-class-unknown');
  });
});

it('What is computed from several figures rests on the weakest of them', () => {
  const { density, transition, doseAllowance } = waxClass('paraffin');
  expect([density.solid.standing, weakestStanding(density.solid)]).toEqual(['published', 'published']);
  expect(weakestStanding(density.solid, transition.low)).toBe('from memory');
  expect(weakestStanding(density.solid, transition.low, doseAllowance)).toBe('common practice');
});
