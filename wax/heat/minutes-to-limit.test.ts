// The band against climbs of another model than the fitted one: a heater block, the wax and a feeler in a sheath, one
// lagging behind the other, with drawn time constants, noise, resolution and pace of reading.
import { randomLcg, randomNormal, randomUniform } from 'd3-random';
import { describe, expect, it } from 'vitest';
import { firstOrderStart, firstOrderStep } from './first-order-fit.ts';
import { type MinutesToLimit, minutesToLimit } from './minutes-to-limit.ts';
import { celsius, epochMillis } from '../units.ts';

interface Climb {
  /** What the feeler shows without noise, each second from the moment the heater stayed on. */
  readonly shownCelsius: readonly number[];
  readonly limitCelsius: number;
  /** The fit begins above it. */
  readonly fitFromCelsius: number;
  readonly everySeconds: number;
  readonly resolutionCelsius: number;
  readonly noise: () => number;
}

const LONGEST_SECONDS = 6 * 3600;

function drawClimb(seed: number, waxSeconds: readonly [number, number]): Climb {
  const source = randomLcg((seed * 0.618034) % 1);
  const draw = (least: number, most: number): number => randomUniform.source(source)(least, most)();
  const of = (choices: readonly number[]): number => choices[Math.floor(draw(0, choices.length))] ?? 0;
  const [start, tau, celsiusPerMinute] = [draw(65, 85), draw(...waxSeconds), draw(0.5, 3)];
  const [blockSeconds, feelerSeconds, noiseCelsius] = [draw(5, 60), draw(10, 90), draw(0.01, 0.12)];
  const climbs = (celsiusPerMinute / 60) * tau;
  const limitCelsius = start + Math.min(draw(4, 20), 0.8 * climbs);
  const shownCelsius: number[] = [];
  let [heat, wax, feeler] = [0, start, start];
  while (shownCelsius.length < LONGEST_SECONDS && feeler < limitCelsius) {
    shownCelsius.push(feeler);
    heat += (1 - heat) / blockSeconds;
    wax += (heat * climbs + start - wax) / tau;
    feeler += (wax - feeler) / feelerSeconds;
  }
  return {
    shownCelsius,
    limitCelsius,
    fitFromCelsius: start + draw(0.3, 2),
    everySeconds: of([2, 5, 10, 30]),
    resolutionCelsius: of([0.01, 0.0625, 0.1]),
    noise: randomNormal.source(source)(0, noiseCelsius),
  };
}

interface Announcement {
  readonly left: number;
  readonly forecast: MinutesToLimit;
}

/** What was announced about each minute of the climb, and the minutes that were really left. */
function announcementsOf(climb: Climb): readonly Announcement[] {
  const { shownCelsius, limitCelsius, fitFromCelsius, everySeconds, resolutionCelsius, noise } = climb;
  const announcements: Announcement[] = [];
  let [state, taken] = [firstOrderStart(), 0];
  for (let second = 0; second < shownCelsius.length; second += everySeconds) {
    const noisy = (shownCelsius[second] ?? 0) + noise();
    if (state.at === null && noisy < fitFromCelsius) continue;
    const shown = Math.round(noisy / resolutionCelsius) * resolutionCelsius;
    state = firstOrderStep(state, epochMillis(1000 * second), celsius(shown));
    taken += 1;
    const left = (shownCelsius.length - second) / 60;
    if (left < 0.5 || taken % Math.round(60 / everySeconds) !== 0) continue;
    const forecast = minutesToLimit(state, celsius(limitCelsius));
    if (forecast !== null) announcements.push({ left, forecast });
  }
  return announcements;
}

const share = <T>(all: readonly T[], holds: (each: T) => boolean): number =>
  all.filter(holds).length / all.length;

const isInside = ({ left, forecast: { low, high } }: Announcement): boolean =>
  low <= left && (high === null || left <= high);

describe('the band of the minutes to a limit', () => {
  const seeds = Array.from({ length: 200 }, (_, index) => 1000 + index);
  const straight = seeds.flatMap((seed) => announcementsOf(drawClimb(seed, [5400, 14_400])));
  const bent = seeds.flatMap((seed) => announcementsOf(drawClimb(seed, [900, 3600])));
  const basedOn = (all: readonly Announcement[], basis: MinutesToLimit['basis']) =>
    all.filter(({ forecast }) => forecast.basis === basis);

  it.each([
    { climb: 'next to straight', basis: 'straight' as const, all: straight },
    { climb: 'next to straight', basis: 'first-order' as const, all: straight },
    { climb: 'bent', basis: 'straight' as const, all: bent },
    { climb: 'bent', basis: 'first-order' as const, all: bent },
  ])('holds at least 90 % of the true minutes of climbs $climb, by a $basis curve', ({ basis, all }) => {
    const announced = basedOn(all, basis);
    expect(announced.length).toBeGreaterThan(100);
    expect(share(announced, isInside)).toBeGreaterThanOrEqual(0.9);
  });

  it('is met before its near end in at most 1 of 100', () => {
    expect(share([...straight, ...bent], ({ left, forecast }) => left < forecast.low)).toBeLessThan(0.01);
  });

  it('stays useful: its near end is more than half of what is left in 9 of 10', () => {
    const near = share([...straight, ...bent], ({ left, forecast }) => forecast.low > 0.5 * left);
    expect(near).toBeGreaterThan(0.9);
  });

  it('has the announced minutes between its ends', () => {
    for (const { forecast } of [...straight, ...bent]) {
      expect(forecast.low).toBeLessThanOrEqual(forecast.minutes);
      expect(forecast.high ?? Infinity).toBeGreaterThanOrEqual(forecast.minutes);
    }
  });
});
