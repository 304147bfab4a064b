import { describe, expect, it } from 'vitest';
import { softToTheCoreAfter } from '../../../wax/heat/soak.ts';
import { soakBody, soakMaterialOf } from '../../../wax/heat/soak-body.ts';
import { celsius, millimetres } from '../../../wax/units.ts';
import { waxClass } from '../../../wax/wax-class.ts';
import { coreOf, isSoftToTheCore, type Load, loadIn, loadOutlook, loadStep, type SoakPlace } from './load.ts';

const wax = waxClass('inlay-type-1');
const place = (more: Partial<SoakPlace> = {}): SoakPlace => ({
  warmFrom: 48,
  wax,
  shape: { kind: 'stick', diameter: millimetres(20) },
  surroundings: 'still-air',
  ...more,
});

/** A reading every half minute at one temperature, from minute `from` (exclusive) up to `to`. */
const loadHeldAt = (load: Load, from: number, to: number, at = 50, where = place()): Load => {
  let now = load;
  for (let half = 2 * from + 1; half <= 2 * to; half += 1) now = loadStep(now, half * 30_000, at, where);
  return now;
};

describe('a load that soaks', () => {
  it('is soft to the core when it is so by the exact series of conduction', () => {
    const body = soakBody({ kind: 'stick', diameter: millimetres(20) }, soakMaterialOf(wax), 'still-air');
    const exact = body.ok ? softToTheCoreAfter(body.value, celsius(20), celsius(50), celsius(45)) : body;
    const minutes = exact.ok ? exact.value / 60 : Number.NaN;
    expect(minutes).toBeGreaterThan(30);
    expect(isSoftToTheCore(loadHeldAt(loadIn('sticks', 0), 0, Math.floor(0.97 * minutes)))).toBe(false);
    expect(isSoftToTheCore(loadHeldAt(loadIn('sticks', 0), 0, Math.ceil(1.03 * minutes)))).toBe(true);
  });

  it('counts neither minutes nor heat of a silence', () => {
    const before = loadHeldAt(loadIn('sticks', 0), 0, 10);
    const after = loadStep(before, 40 * 60_000, 50, place());
    expect(after.soakedMinutes).toBe(before.soakedMinutes);
    expect(coreOf(after)).toBe(coreOf(before));
    expect(coreOf(loadHeldAt(after, 40, 50)) ?? 0).toBeGreaterThan(coreOf(before) ?? 100);
  });

  it('is never soft at a place that is too cold, however long it lies', () => {
    const cold = loadHeldAt(loadIn('sticks', 0), 0, 300, 40);
    expect(isSoftToTheCore(cold)).toBe(false);
    expect(cold.soakedMinutes).toBe(0);
  });

  it('softens sooner in water than in air', () => {
    const core = (surroundings: SoakPlace['surroundings']) =>
      coreOf(loadHeldAt(loadIn('sticks', 0), 0, 8, 50, place({ surroundings })));
    expect(core('water-bath') ?? 0).toBeGreaterThan((core('still-air') ?? 100) + 10);
  });

  it('goes by the minutes alone where no wax is known', () => {
    const load = loadHeldAt(loadIn('sticks', 0), 0, 20, 50, place({ wax: null }));
    expect([load.soakedMinutes, coreOf(load), isSoftToTheCore(load)]).toEqual([20, null, true]);
  });

  it('is plain JSON, so that it goes on after a restart as if there had been none', () => {
    const half = loadHeldAt(loadIn('sticks', 0), 0, 15);
    const restarted: Load = JSON.parse(JSON.stringify(half));
    expect(loadHeldAt(restarted, 15, 30)).toEqual(loadHeldAt(half, 15, 30));
  });
});

describe('the state of a load', () => {
  it('is shown while it is in: core, where it is soft, and when, the sooner the longer it lies', () => {
    const start = loadIn('sticks', 0);
    expect(loadOutlook(start, place())).toMatchObject({
      load: 'sticks',
      coreCelsius: null,
      softToTheCoreAt: null,
    });
    const early = loadOutlook(loadHeldAt(start, 0, 3), place());
    const late = loadOutlook(loadHeldAt(start, 0, 60), place());
    expect(early?.coreCelsius).toBeLessThan(late?.coreCelsius ?? 0);
    expect(early?.softToTheCoreAt).toBeGreaterThan(3 * 60_000);
    expect(late?.softToTheCoreAt).toBeLessThanOrEqual(60 * 60_000);
    expect(late?.coreCelsius).toBeGreaterThanOrEqual(late?.softCelsius ?? Infinity);
  });

  it('is not shown of what was taken out, and of a wax that is not known only for how long it was in', () => {
    const out = { ...loadHeldAt(loadIn('sticks', 0), 0, 10), takenOutAt: 600_000 };
    expect(loadOutlook(out, place())).toBeNull();
    expect(loadOutlook(null, place())).toBeNull();
    const unknown = place({ wax: null });
    const load = loadStep(loadIn('sticks', 0), 60_000, 50, unknown);
    expect(loadOutlook(load, unknown)).toMatchObject({
      coreCelsius: null,
      softToTheCoreAt: null,
      soakedMinutes: 1,
    });
  });
});
