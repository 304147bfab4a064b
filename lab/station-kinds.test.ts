import { describe, expect, expectTypeOf, it } from 'vitest';
import {
  heats,
  holdsMeltedWax,
  STATION_KIND_FACTS,
  STATION_KINDS,
  type StationKind,
  type StationKindFacts,
  stores,
} from './station-kinds.ts';

type Table = Readonly<Record<StationKind, StationKindFacts>>;

describe('the table of station kinds', () => {
  it('does not compile while a kind has no row, or a row lacks a fact', () => {
    expectTypeOf<Table>().toExtend<typeof STATION_KIND_FACTS>();
    expectTypeOf<Omit<Table, 'lamp'>>().not.toExtend<typeof STATION_KIND_FACTS>();
    expectTypeOf<Omit<Table, 'lamp'> & { lamp: Omit<StationKindFacts, 'caution'> }>().not.toExtend<
      typeof STATION_KIND_FACTS
    >();
    expect(Object.keys(STATION_KIND_FACTS).sort()).toEqual([...STATION_KINDS].sort());
  });

  it.each(STATION_KINDS.filter(heats))('gives the heater %s a window, a ceiling and a caution', (kind) => {
    const { window, ceiling, caution, burnContact, combinesProbes } = STATION_KIND_FACTS[kind];
    expect([window, ceiling, caution, burnContact]).not.toContain(null);
    expect(combinesProbes).toBe('hottest');
  });

  it.each(STATION_KINDS.filter(stores))(
    'gives the storage place %s a storage limit and no ceiling',
    (kind) => {
      const { hasStorageLimit, ceiling, window, caution } = STATION_KIND_FACTS[kind];
      expect([hasStorageLimit, ceiling, window, caution]).toEqual([true, null, null, null]);
    },
  );

  it('holds every kind to be a heater, a storage place or a furnace, and no two of them', () => {
    for (const kind of STATION_KINDS)
      expect(
        [heats(kind), stores(kind), STATION_KIND_FACTS[kind].role === 'burns-out'].filter(Boolean),
      ).toHaveLength(1);
    expect(STATION_KINDS.filter(holdsMeltedWax)).toEqual(['melt-pot', 'dip-pot']);
  });

  it('warns of skin contact wherever it warns at all', () => {
    for (const { caution, burnContact } of Object.values(STATION_KIND_FACTS))
      expect(burnContact === null).toBe(caution === null);
  });
});
