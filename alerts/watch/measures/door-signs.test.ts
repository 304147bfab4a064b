import { describe, expect, it } from 'vitest';
import { advanceDoorSigns, type DoorSigns, type Inside, startDoorSigns } from './door-signs.ts';

const START = Date.parse('2026-03-02T08:00:00Z');
const STEP_SECONDS = 20;
const WINDOW_LOW = 46;
const READS = { cycleSeconds: 360, periodSeconds: STEP_SECONDS, isTooSeldom: false };

/** Between 49 and 51 °C, a cycle of 6 min. */
const thermostat = (seconds: number): number => 50 + Math.cos((2 * Math.PI * seconds) / 360);

interface Door {
  readonly seconds: number;
  /** Kelvins that it takes at once, and seconds in which the air comes back. */
  readonly depth: number;
  readonly backSeconds: number;
  /** Kelvins that the air overshoots by afterwards. */
  readonly overshoot?: number;
}

const inside = (doors: readonly Door[], seconds: number): number =>
  doors.reduce((celsius, { seconds: from, depth, backSeconds, overshoot = 0 }) => {
    const since = seconds - from;
    if (since < 0) return celsius;
    const fall = depth * Math.min(1, since / 40) * Math.exp(-Math.max(0, since - 40) / backSeconds);
    return celsius - fall + overshoot * Math.exp(-(((since - 180) / 60) ** 2));
  }, thermostat(seconds));

interface Places {
  readonly hottestAt?: (seconds: number) => number;
  readonly spreadAt?: (seconds: number) => number;
  readonly fallsTo?: number;
  readonly usualFall?: number;
  /** Standard deviation of a reading, kelvins. */
  readonly noise?: number;
  readonly isTooSeldom?: boolean;
}

function run(
  celsiusAt: (seconds: number) => number,
  hours: number,
  {
    hottestAt = celsiusAt,
    fallsTo = Number.POSITIVE_INFINITY,
    isTooSeldom = false,
    noise = 0,
    spreadAt = () => 1,
    usualFall = Number.POSITIVE_INFINITY,
  }: Places = {},
): DoorSigns {
  const insideAt = (seconds: number): Inside => ({
    celsius: celsiusAt(seconds),
    spread: spreadAt(seconds),
    hottest: hottestAt(seconds),
    fallsTo,
    usualFall,
    noise,
    step: 0,
  });
  const signs = startDoorSigns(START, insideAt(0));
  for (let seconds = STEP_SECONDS; seconds <= hours * 3600; seconds += STEP_SECONDS)
    advanceDoorSigns(signs, START + seconds * 1000, insideAt(seconds), WINDOW_LOW, { ...READS, isTooSeldom });
  return signs;
}

const COLD_LOAD = { seconds: 7200, depth: 4, backSeconds: 150 };
const EMPTIED = { seconds: 8100, depth: 4, backSeconds: 50, overshoot: 1 };

describe('doors of a softening cabinet', () => {
  it('finds none while the thermostat cycles, however long', () => {
    expect(run(thermostat, 24).openings).toEqual([]);
  });

  it.each([
    { usualFall: 4 / 180, doors: 1 },
    { usualFall: 8 / 180, doors: 0 },
  ])(
    'finds a door that stays within the band by how fast the air falls, usually $usualFall K/s: $doors',
    (at) => {
      const door = { seconds: 7200, depth: 4, backSeconds: 100 };
      const wide = (seconds: number) => inside([door], seconds) + thermostat(seconds) - 50;
      expect(run(wide, 3, { usualFall: at.usualFall }).openings).toHaveLength(at.doors);
    },
  );

  it('finds each door within a minute of its opening', () => {
    const { openings } = run((seconds) => inside([COLD_LOAD, EMPTIED], seconds), 3);
    expect(openings.map(({ at }) => (at - START) / 1000)).toEqual([
      expect.closeTo(COLD_LOAD.seconds + 30, -2),
      expect.closeTo(EMPTIED.seconds + 30, -2),
    ]);
  });

  it('measures a lower top after a cold load than after the cabinet was emptied', () => {
    const [laidIn, takenOut] = run((seconds) => inside([COLD_LOAD, EMPTIED], seconds), 3).openings;
    expect(takenOut?.top).toBeGreaterThan((laidIn?.top ?? 0) + 0.5);
  });

  it('measures how high its air goes with the door shut, and leaves out what a door does', () => {
    const door = { seconds: 7200, depth: 4, backSeconds: 50, overshoot: 2 };
    const { shut } = run((seconds) => inside([door], seconds), 4);
    expect(shut?.mean).toBeCloseTo(51, 1);
    expect(shut?.scatter).toBeLessThan(0.1);
  });

  it('takes a fall that goes on within its band for one door', () => {
    const fall = (since: number) => 5 * (1 - Math.exp(-Math.max(0, since) / 60));
    const falls = (seconds: number) =>
      50 + 2.5 * Math.cos((2 * Math.PI * seconds) / 360) - fall(seconds - 7200);
    expect(run(falls, 2.04, { usualFall: 1.5 / 180 }).openings).toHaveLength(1);
  });

  it('has the usual band to a few tenths after half an hour, and keeps it through many doors', () => {
    const doors = Array.from({ length: 12 }, (_, index) => ({ ...COLD_LOAD, seconds: 3600 * (index + 1) }));
    const { high, low } = run((seconds) => inside(doors, seconds), 14);
    expect(low).toBeGreaterThan(48.7);
    expect(low).toBeLessThan(49.4);
    expect(high).toBeGreaterThan(50.6);
    expect(high).toBeLessThan(51.3);
  });

  it('learns a thermostat that swings wider from now on, instead of taking each of its cycles for a door', () => {
    const wider = (seconds: number): number => {
      const kelvins = seconds < 4 * 3600 ? 1 : 2.5;
      return 50 + kelvins * Math.cos((2 * Math.PI * seconds) / 420);
    };
    const { openings } = run(wider, 12);
    expect(openings.length).toBeGreaterThan(0);
    expect(openings.filter(({ at }) => at > START + 8 * 3_600_000)).toEqual([]);
  });

  it('finds no door in a heater that is switched off and cools as slowly as its thermostat lets it', () => {
    const cooling = (seconds: number): number =>
      seconds < 7380 ? thermostat(seconds) : 49 - (seconds - 7380) / 400;
    expect(run(cooling, 4).openings).toEqual([]);
  });

  it('finds no door where the mean falls and the hottest probe does not', () => {
    expect(run((seconds) => inside([COLD_LOAD], seconds), 3, { hottestAt: thermostat }).openings).toEqual([]);
  });

  it.each([
    { hottest: 'falls too', hottestAt: (seconds: number) => inside([COLD_LOAD], seconds), apart: 1 },
    { hottest: 'does not', hottestAt: thermostat, apart: 5 },
  ])(
    'that are read too seldom leave out how far its places are apart where the hottest probe falls: it $hottest',
    ({ hottestAt, apart }) => {
      const celsiusAt = (seconds: number) => inside([COLD_LOAD], seconds);
      const spreadAt = (seconds: number) => (seconds > COLD_LOAD.seconds + 20 ? 5 : 1);
      const { openings, spread } = run(celsiusAt, 2.06, { hottestAt, isTooSeldom: true, spreadAt });
      expect(openings).toEqual([]);
      expect(Math.abs(spread - apart)).toBeLessThan(2);
    },
  );

  it('finds no door in what its thermostat lets it fall to by itself', () => {
    const celsiusAt = (seconds: number) => inside([COLD_LOAD], seconds);
    expect(run(celsiusAt, 3).openings).toHaveLength(1);
    expect(run(celsiusAt, 3, { fallsTo: 35 }).openings).toEqual([]);
  });

  it('finds no door in the noise of its probes', () => {
    const noisyAt = (seconds: number) => thermostat(seconds) - (seconds === 8000 ? 2.5 : 0);
    expect(run(noisyAt, 3).openings).toHaveLength(1);
    expect(run(noisyAt, 3, { noise: 0.8 }).openings).toEqual([]);
  });

  it('finds no door in the end of an overshoot', () => {
    const overshot = (above: number) => (seconds: number) =>
      seconds < 8000
        ? thermostat(seconds)
        : seconds < 8060
          ? 50 + above
          : seconds < 8200
            ? 40
            : thermostat(seconds);
    expect(run(overshot(0), 3).openings).toHaveLength(1);
    expect(run(overshot(9), 3).openings).toEqual([]);
  });

  it('finds no door where the air swings back under its band by less than it overshot it', () => {
    const swung = (under: number) => (seconds: number) => {
      const since = seconds - 8000;
      const back =
        5 * Math.exp(-(((since - 120) / 60) ** 2)) - under * Math.exp(-(((since - 400) / 60) ** 2));
      return thermostat(seconds) + back;
    };
    expect(run(swung(1.5), 3).openings).toEqual([]);
    expect(run(swung(9), 3).openings).toHaveLength(1);
  });

  it('does not count the fall over a silence as a door', () => {
    const signs = run(thermostat, 2);
    advanceDoorSigns(
      signs,
      START + 2.5 * 3_600_000,
      { celsius: 45, spread: 0, hottest: 45, fallsTo: 45, usualFall: Infinity, noise: 0, step: 0 },
      WINDOW_LOW,
      READS,
    );
    expect(signs.openings).toEqual([]);
  });

  it('means the spread of its probes over the cycles of the thermostat', () => {
    const spreadAt = (seconds: number): number => 2 + Math.sin((2 * Math.PI * seconds) / 240);
    expect(Math.abs(run(thermostat, 2, { spreadAt }).spread - 2)).toBeLessThan(0.4);
  });

  it('leaves out of the spread what a door does to it for some minutes', () => {
    const spreadAt = (seconds: number): number => (seconds >= COLD_LOAD.seconds + 40 ? 5 : 1);
    const within = (minutes: number): number =>
      run((seconds) => inside([COLD_LOAD], seconds), 2 + minutes / 60, { spreadAt }).spread;
    expect(within(4)).toBeLessThan(1.5);
    expect(within(9)).toBeGreaterThan(4);
  });
});
