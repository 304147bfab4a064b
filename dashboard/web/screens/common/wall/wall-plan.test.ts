import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typePixels } from './viewing-distance.ts';
import { type Area, MOST_ALARMS, type WallPlan, wallPlanner } from './wall-plan.ts';
import { gridRowHeight, type TileTexts } from './wall-tile.ts';

const emsOf = (text: string): number => text.length * 0.43;
const wallPlan = (some: readonly TileTexts[], area: Area, ems: (text: string) => number): WallPlan =>
  wallPlanner(some, ems)(area);
const viewing = { distance_metres: 4, diagonal_inches: 43, width_pixels: 1920, height_pixels: 1080 };
const perArc = typePixels(1, viewing);
const LANDSCAPE = { width: 1912 / perArc, height: 960 / perArc };
const PORTRAIT = { width: 1072 / perArc, height: 1790 / perArc };

const tile = (index: number, facts: Partial<TileTexts> = {}): TileTexts => ({
  key: `station-${index}`,
  order: index,
  isAlarm: false,
  isNotable: false,
  name: `Melt pot ${index}`,
  value: '72.4',
  unit: '°C',
  word: 'In window',
  advice: '',
  note: '',
  briefNote: '',
  ...facts,
});
const alarm = (index: number, facts: Partial<TileTexts> = {}): TileTexts =>
  tile(index, {
    isAlarm: true,
    value: '104.3',
    word: 'Over ceiling',
    advice: 'Turn the heater down or off',
    ...facts,
  });
const tiles = (count: number, alarms = 0): readonly TileTexts[] =>
  Array.from({ length: count }, (_, index) => (index < alarms ? alarm(index) : tile(index)));

const placed = (plan: WallPlan): readonly string[] => [
  ...(plan.alarms?.keys ?? []),
  ...plan.stations.pinned,
  ...plan.stations.pages.flat(),
  ...plan.furtherAlarms,
  ...plan.unplaced,
];

describe('the plan of the wall', () => {
  it.each(Array.from({ length: 60 }, (_, index) => index + 1))(
    'places each of %d calm stations once, at no less than its least size',
    (count) => {
      for (const area of [LANDSCAPE, PORTRAIT]) {
        const plan = wallPlan(tiles(count), area, emsOf);
        expect([...placed(plan)].sort()).toEqual(
          tiles(count)
            .map(({ key }) => key)
            .sort(),
        );
        expect(plan.stations.scale).toBeGreaterThanOrEqual(1);
        expect(plan.unplaced).toEqual([]);
      }
    },
  );
  it('shows eight stations in full and twelve with their limits, in the order of the lab', () => {
    expect(wallPlan(tiles(8), LANDSCAPE, emsOf)).toMatchObject({ level: 'full', alarms: null });
    const twelve = wallPlan(tiles(12), LANDSCAPE, emsOf);
    expect(twelve.level).toBe('middle');
    expect(twelve.stations.pages).toEqual([tiles(12).map(({ key }) => key)]);
  });
  it('leaves every station in its place while the alarms fit there', () => {
    const plan = wallPlan(tiles(8, 3), LANDSCAPE, emsOf);
    expect(plan.alarms).toBeNull();
    expect(plan.stations.pages).toEqual([tiles(8).map(({ key }) => key)]);
  });
  it.each([
    ['landscape', LANDSCAPE],
    ['portrait', PORTRAIT],
  ])('shows twelve alarms at full size in %s, the rest by name', (_, area) => {
    const plan = wallPlan(tiles(40, 15), area, emsOf);
    expect(plan.alarms?.keys).toEqual(tiles(MOST_ALARMS, MOST_ALARMS).map(({ key }) => key));
    expect(plan.alarms?.scale).toBeGreaterThanOrEqual(1);
    expect(plan.furtherAlarms).toEqual(['station-12', 'station-13', 'station-14']);
  });
  it('pages calm stations rather than shrink them, and never an alarm', () => {
    const plan = wallPlan(tiles(60, 2), LANDSCAPE, emsOf);
    expect(plan.alarms?.keys).toEqual(['station-0', 'station-1']);
    expect(plan.stations.pages.length).toBeGreaterThan(1);
    expect(plan.stations.scale).toBeGreaterThanOrEqual(1);
    for (const page of plan.stations.pages) expect(page).not.toContain('station-0');
  });
  it('shows a silent or acknowledged station on every page', () => {
    const some = tiles(60).map((station, index) =>
      index === 50 ? { ...station, isNotable: true } : station,
    );
    const plan = wallPlan(some, LANDSCAPE, emsOf);
    expect(plan.stations.pinned).toEqual(['station-50']);
  });
  it('keeps names apart where they must be shortened', () => {
    const long = Array.from({ length: 40 }, (_, index) =>
      tile(index, { name: `Schmelztopf für Kronen und Brücken am großen Arbeitsplatz Nummer ${index}` }),
    );
    const { names } = wallPlan(long, LANDSCAPE, emsOf);
    expect(new Set(names.values()).size).toBe(40);
  });
  it('fills a screen that is too small for the distance with smaller tiles instead of none', () => {
    const plan = wallPlan(tiles(3, 1), { width: 60, height: 40 }, emsOf);
    expect(plan.stations.scale).toBeLessThan(1);
    expect(placed(plan)).toContain('station-0');
  });

  it('loses no station, cuts no alarm and runs over no edge, whatever the screen and the texts', () => {
    const texts = fc.record({
      isAlarm: fc.boolean(),
      isNotable: fc.boolean(),
      name: fc.constantFrom('Dip pot', 'Melt pot of the crowns', 'Schmelztopf für Kronen und Brücken'),
      word: fc.constantFrom('Cold', 'Over ceiling', 'Alarms reach nobody', 'Niemand erreichbar'),
      advice: fc.constantFrom('', 'Turn the heater down or off'),
      briefNote: fc.constantFrom('', 'Was: over ceiling, 14:10 to 15:02. Confirm at the pot.'),
    });
    fc.assert(
      fc.property(
        fc.array(texts, { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 80, max: 1200 }),
        fc.integer({ min: 60, max: 1200 }),
        (some, width, height) => {
          const all = some.map((facts, index) => tile(index, facts));
          const plan = wallPlan(all, { width, height }, emsOf);
          expect(new Set(placed(plan)).size).toBe(all.length);
          const { columns, rows, scale } = plan.stations;
          const above = plan.alarms?.height ?? 0;
          expect(above).toBeLessThanOrEqual(height * 1.0001);
          const keys = new Set([...plan.stations.pinned, ...plan.stations.pages.flat()]);
          const shown = all
            .filter(({ key }) => keys.has(key))
            .map((each) => ({ ...each, name: plan.names.get(each.key) ?? each.name }));
          const high = gridRowHeight(shown, plan.level, width / columns / scale, emsOf) * scale;
          expect(high * rows).toBeLessThanOrEqual((height - above) * 1.0001);
        },
      ),
    );
  });
});
