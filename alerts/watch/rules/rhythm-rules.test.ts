// Rules that have learned the rhythm of a thermostat: how fast it rises and falls, and how evenly it turns.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import { every, HOUR } from '../../../tests/pot-runs.ts';
import { potLab } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { RULES, type RuleKind } from './all-rules.ts';

const rulesOf = (entries: readonly Entry[]) =>
  waxWatch
    .stepAll(waxWatch.initial(), entries, potLab())
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ rule }) => rule);
/** The default of a figure: its edge is tested, not its value. */
const figure = (kind: RuleKind, name: string) => RULES[kind].parameters[name]?.default ?? Number.NaN;
const swing =
  (middle: number, kelvins: number, periodSeconds: number) =>
  (second: number): number =>
    middle + kelvins * (1 - 4 * Math.abs(((second / periodSeconds) % 1) - 0.5));

describe('a pot that runs low', () => {
  const ratio = figure('low-pot', 'pace_ratio');
  it.each([
    { times: figure('low-pot', 'worked_ratio') - 0.08, raised: false },
    { times: ratio + 0.12, raised: true },
  ])('rises and falls $times times as fast as usual: $raised', ({ times, raised }) => {
    const entries = every(10, 0, 10 * HOUR, (second) =>
      second < 8 * HOUR ? swing(90, 2, 480)(second) : swing(90, 2, 480 / times)(second - 8 * HOUR),
    );
    expect(rulesOf(entries).includes('low-pot')).toBe(raised);
  });
  it('is announced on its first day where it rises and falls nearly twice as fast', () => {
    const entries = every(10, 0, 7 * HOUR, (second) =>
      second < 5 * HOUR ? swing(90, 2, 1200)(second) : swing(90, 2, 650)(second - 5 * HOUR),
    );
    expect(rulesOf(entries)).toContain('low-pot');
  });
  it.each([
    { meanwhile: 'only somewhat faster than usual', times: ratio - 0.02, calls: 1 },
    { meanwhile: 'as usual, being full again', times: 1, calls: 2 },
  ])('and turns $meanwhile before it is as fast again is announced $calls times', ({ calls, times }) => {
    const paces = [1, 1, 1, 1, ratio + 0.12, times, ratio + 0.12];
    const entries = every(10, 0, 2 * paces.length * HOUR, (second) =>
      swing(90, 2, 480 / (paces[Math.floor(second / (2 * HOUR))] ?? 1))(second % (2 * HOUR)),
    );
    expect(rulesOf(entries).filter((rule) => rule === 'low-pot')).toHaveLength(calls);
  });
  it.each([
    { grown: 1.4, raised: false },
    { grown: 1.7, raised: true },
  ])(
    'hour by hour on its first day, down to cycles $grown times as fast, is low: $raised',
    ({ grown, raised }) => {
      let at = 0;
      const begins: number[] = [];
      // Each cycle somewhat shorter than the one before, but for the first two hours.
      while (at < 8 * HOUR) {
        begins.push(at);
        at += 480 / grown ** (Math.max(0, at - 2 * HOUR) / (6 * HOUR));
      }
      const entries = every(10, 0, 8 * HOUR - 600, (second) => {
        const index = begins.findLastIndex((from) => from <= second);
        const from = begins[index] ?? 0;
        const period = (begins[index + 1] ?? at) - from;
        return swing(90, 2, period)(second - from);
      });
      expect(rulesOf(entries).includes('low-pot')).toBe(raised);
    },
  );
  it('that loses more heat, rising slower and falling faster, is not low', () => {
    /** Rises in `rise` seconds and falls in `fall`. */
    const between88and92 = (rise: number, fall: number) => (second: number) => {
      const past = second % (rise + fall);
      return past < rise ? 88 + (4 * past) / rise : 92 - (4 * (past - rise)) / fall;
    };
    const entries = every(10, 0, 10 * HOUR, (second) =>
      second < 8 * HOUR ? between88and92(240, 240)(second) : between88and92(400, 170)(second - 8 * HOUR),
    );
    expect(rulesOf(entries)).not.toContain('low-pot');
  });
});

describe('a thermostat that held its pot between 88 and 92 °C', () => {
  it.each([
    { kelvins: 0.4, seconds: 60, raised: true },
    { kelvins: 0, seconds: 60, raised: false },
    { kelvins: 1.6, seconds: 480, raised: false },
  ])('and then lets it swing by twice $kelvins K in $seconds s is erratic: $raised', (later) => {
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 8 * HOUR ? swing(90, 2, 480)(second) : swing(90, later.kelvins, later.seconds)(second),
    );
    expect(rulesOf(entries).includes('thermostat-drift')).toBe(later.raised);
  });
  it('and turns fast below that, as cold pieces make it, is not erratic', () => {
    /** Rises as ever, and falls four times as fast. */
    const cooled = (second: number) => {
      const past = second % 220;
      return past < 170 ? 84.6 + past / 60 : 84.6 + (17 * (220 - past)) / 300;
    };
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 8 * HOUR ? swing(90, 2, 480)(second) : cooled(second),
    );
    expect(rulesOf(entries)).not.toContain('thermostat-drift');
  });
  /** Each cycle as wide as its share of 4 K; all begin at 88 °C. */
  const cycles =
    (widths: readonly number[]) =>
    (second: number): number => {
      const width = widths[Math.floor(second / 480) % widths.length] ?? 1;
      return 88 + 4 * width * (1 - 2 * Math.abs(((second / 480) % 1) - 0.5));
    };
  it.each([
    { what: 'alike', widths: [1], raised: true },
    {
      what: 'now large and now small, as work makes them',
      widths: [1, 0.4, 0.7, 1, 0.35, 0.6],
      raised: false,
    },
  ])(
    'for some of its first cycles, $what, and holds still then is erratic: $raised',
    ({ raised, widths }) => {
      const entries = every(10, 0, 4 * HOUR, (second) =>
        second < 2 * HOUR ? cycles(widths)(second) : swing(90, 0.4, 60)(second),
      );
      expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
    },
  );
  it.each([
    { what: 'in part, so that it falls at half its pace', fall: 180, raised: true },
    { what: 'no more', fall: 90, raised: false },
  ])(
    'and then turns twice in the midst of its band and heats $what is erratic: $raised',
    ({ fall, raised }) => {
      // Once to 89.5 °C, once to 89.2, in the time of the higher one.
      const turn = 90 + fall;
      const interrupted = (second: number): number => {
        const past = second % turn;
        const width = second < turn ? 1.5 : 1.2;
        return 88 + width * (past < 90 ? past / 90 : 1 - (past - 90) / fall);
      };
      const entries = every(10, 0, 4 * HOUR + 1500, (second) => {
        const since = second - 4 * HOUR;
        return since < 0 || since > 2 * turn ? swing(90, 2, 480)(second) : interrupted(since);
      });
      expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
    },
  );
  it('and is switched off is not erratic', () => {
    const entries = every(10, 0, 10 * HOUR, (second) =>
      second < 8 * HOUR ? swing(90, 2, 480)(second) : 90 - (second - 8 * HOUR) / 300,
    );
    expect(rulesOf(entries)).not.toContain('thermostat-drift');
  });
});

describe('a pot whose thermostat feels its body', () => {
  const DAY = 24 * HOUR;
  /** Works from 8 to 16 h: about 90 °C, a cold piece in the morning, each day `work` K lower and faster for an hour at noon. */
  const workedDay = (day: number, kelvins: number, times: number, work: number) =>
    every(10, day * DAY, day * DAY + 8 * HOUR, (second) => {
      const inDay = second - day * DAY;
      const isNoon = inDay > 4 * HOUR && inDay < 5 * HOUR;
      const isLow = day === 2 && inDay > 6 * HOUR;
      const at = isLow
        ? { kelvins, times }
        : { kelvins: isNoon ? work : 0, times: isNoon && work > 0 ? 1.1 : 1 };
      const coldPiece = inDay > 2 * HOUR && inDay < 2 * HOUR + 60 ? 4 : 0;
      return swing(90 - at.kelvins, 1, 480 / at.times)(inDay) - coldPiece;
    });
  const days = (kelvins: number, times: number, work = 0) =>
    [0, 1, 2].flatMap((day) => workedDay(day, kelvins, times, work));
  const twice = 2 * figure('low-pot', 'sinking_celsius_difference');
  it.each([
    { kelvins: twice, times: 1.12, raised: true },
    { kelvins: twice, times: 1, raised: false },
    { kelvins: 0, times: 1.12, raised: false },
  ])('cycles $kelvins K lower and $times times as fast as on the days before: $raised', (changed) => {
    expect(rulesOf(days(changed.kelvins, changed.times)).includes('low-pot')).toBe(changed.raised);
  });
  it('cycles lower and faster, as work made it on the days before: not low', () => {
    expect(rulesOf(days(twice, 1.12, twice))).not.toContain('low-pot');
  });
  it('was turned down by a kelvin and a half and turns as evenly: not low', () => {
    expect(rulesOf(days(1.5, 1))).not.toContain('low-pot');
  });
});

describe('a pot whose power is given in proportion', () => {
  const DAY = 24 * HOUR;
  /** Steady at 90 °C; each half hour work cools it for six minutes, by `kelvins` in three. */
  const worked = (day: number, kelvins: number, from = 0, to = 8 * HOUR) =>
    every(10, day * DAY + from, day * DAY + to - 10, (second) => {
      const past = (second - day * DAY) % 1800;
      return 90 - (kelvins * Math.max(0, Math.min(past, 720 - past))) / 180;
    });
  it.each([
    { kelvins: 1, times: 1.1, raised: false },
    { kelvins: 1, times: figure('low-pot', 'falls_ratio') + 0.1, raised: true },
    { kelvins: 2, times: figure('low-pot', 'falls_ratio') + 0.1, raised: true },
  ])('falls $times times as fast as $kelvins K in 3 min when worked at: $raised', (work) => {
    const changed = work.kelvins * work.times;
    const lastDay = [...worked(1, work.kelvins, 0, 2 * HOUR), ...worked(1, changed, 2 * HOUR)];
    const rules = rulesOf([...worked(0, work.kelvins), ...lastDay]);
    expect(rules.includes('low-pot')).toBe(work.raised);
  });

  const firstDay = (kelvins: readonly number[]) =>
    kelvins.flatMap((fall, index) => worked(0, fall, index * 1800, (index + 1) * 1800));
  const before = [1, 1, 1, 1, 1, 1];
  it.each([
    { falls: [1, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7], raised: true, how: 'from turn to turn' },
    {
      falls: [1, 1.02, 1.04, 1.08, 1.1, 1.12, 1.14, 1.16],
      raised: false,
      how: 'by no more than its use of a day',
    },
    {
      falls: [1, 1.02, 1.04, 1.06, 1.7, 1.72, 1.74, 1.76],
      raised: false,
      how: 'at once, as heavier work does',
    },
    { falls: [1, 1.7, 1.1, 1.5, 1.2, 1.6, 1.3, 1.4], raised: false, how: 'in no order' },
  ])('falls faster on its first day $how: $raised', ({ falls, raised }) => {
    expect(rulesOf(firstDay([...before, ...falls])).includes('low-pot')).toBe(raised);
  });
});

describe('a pot that is held steady', () => {
  it('is erratic once only, however often it rests between dips that look like its own cycles', () => {
    const isRest = (second: number) => [3, 6].includes(Math.floor(second / HOUR));
    const entries = every(10, 0, 8 * HOUR, (second) =>
      isRest(second) ? 90.5 + 0.05 * Math.sin(second / 30) : swing(90, 1.5, 240)(second),
    );
    expect(rulesOf(entries)).toEqual(['thermostat-drift']);
  });
  it('and turns only where work dips it is not erratic when nobody works', () => {
    const dipped = (past: number) => 90 - 3 * Math.max(0, past < 40 ? past / 40 : 1 - (past - 40) / 240);
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 8 * HOUR ? dipped(second % 600) : 90 - 0.05 * (1 + Math.sin(second / 30)),
    );
    expect(rulesOf(entries)).not.toContain('thermostat-drift');
  });
});

describe('a contact that bounces', () => {
  const HIGHS = [91.5, 90.4, 91.8, 90.8, 92, 90.6, 91.4, 90.2];
  /** From 88 °C up to one height after another, in `rise` seconds a kelvin, and down again in 60. */
  const ragged = (rise: number) => {
    let [celsius, isRising, turn] = [88, true, 0];
    return () => {
      celsius += isRising ? 10 / rise : -10 / 60;
      const high = HIGHS[turn % HIGHS.length] ?? 92;
      if (isRising && celsius >= high) isRising = false;
      else if (!isRising && celsius <= 88) [isRising, turn] = [true, turn + 1];
      return celsius;
    };
  };
  it.each([
    { rise: 150, raised: true },
    { rise: 100, raised: false },
    { rise: 60, raised: false },
  ])('lets the tops scatter, rising in $rise s a kelvin instead of 60: $raised', ({ rise, raised }) => {
    const bouncing = ragged(rise);
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 6 * HOUR ? swing(90, 2, 480)(second) : bouncing(),
    );
    expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
  });
  it.each([
    { tops: [91, 90.5], raised: false },
    { tops: [91, 90.5, 91.5], raised: true },
  ])('shows in more tops than the two that a coarse probe makes: $tops °C, $raised', ({ tops, raised }) => {
    let [celsius, isRising, turn] = [89, true, 0];
    const weak = () => {
      celsius += isRising ? 10 / 135 : -10 / 60;
      if (isRising && celsius >= (tops[turn % tops.length] ?? 91)) isRising = false;
      else if (!isRising && celsius <= 89) [isRising, turn] = [true, turn + 1];
      return celsius;
    };
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 6 * HOUR ? swing(90, 1, 240)(second) : Math.round(2 * weak()) / 2,
    );
    expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
  });
  it.each([
    { what: 'half of the power is missing', rise: 240, fall: 60, raised: true },
    { what: 'it was filled up to half as much wax again', rise: 90, fall: 90, raised: false },
    { what: 'the lid is off', rise: 120, fall: 40, raised: false },
  ])('shows within three even cycles where $what: $raised', ({ rise, fall, raised }) => {
    const entries = every(10, 0, 7.5 * HOUR, (second) => {
      if (second < 6 * HOUR) return swing(90, 1.5, 360)(second);
      const past = (second - 6 * HOUR) % (3 * (rise + fall));
      return past < 3 * rise ? 88.5 + past / rise : 91.5 - (past - 3 * rise) / fall;
    });
    expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
  });
  it.each([
    { what: 'rises a fifth slower and falls as ever', rise: 75, fall: 60, shift: 0, raised: true },
    { what: 'rises hardly slower', rise: 65, fall: 60, shift: 0, raised: false },
    { what: 'falls faster too', rise: 75, fall: 40, shift: 0, raised: false },
    { what: 'never turns above its usual tops', rise: 75, fall: 60, shift: -1, raised: false },
  ])('lets the tops stray to both sides where it $what: $raised', ({ fall, raised, rise, shift }) => {
    const STRAY_TOPS = [92.8, 91, 92.6, 90.8, 92.9, 91.2];
    let [celsius, isRising, turn] = [88, true, 0];
    const straying = () => {
      celsius += isRising ? 10 / rise : -10 / fall;
      if (isRising && celsius >= (STRAY_TOPS[turn % STRAY_TOPS.length] ?? 92) + shift) isRising = false;
      else if (!isRising && celsius <= 88) [isRising, turn] = [true, turn + 1];
      return celsius;
    };
    const entries = every(10, 0, 8 * HOUR, (second) =>
      second < 6 * HOUR ? swing(90, 2, 480)(second) : straying(),
    );
    expect(rulesOf(entries).includes('thermostat-drift')).toBe(raised);
  });
  it('is not taken for one where the lid lies open and all its tops lie under the usual band', () => {
    const LOW_TOPS = [88.4, 86.9, 88.2, 86.6, 88.3, 87, 88.1, 86.8];
    let [celsius, isRising, turn] = [88, true, 0];
    const open = () => {
      celsius += isRising ? 10 / 150 : -10 / 60;
      if (isRising && celsius >= (LOW_TOPS[turn % LOW_TOPS.length] ?? 88)) isRising = false;
      else if (!isRising && celsius <= 85.4) [isRising, turn] = [true, turn + 1];
      return celsius;
    };
    const entries = every(10, 0, 8 * HOUR, (second) =>
      second < 6 * HOUR ? swing(90, 2, 480)(second) : open(),
    );
    expect(rulesOf(entries)).not.toContain('thermostat-drift');
  });
  it('is not taken for one where cold wax goes in at every top', () => {
    let [celsius, isRising, turn] = [88, true, 0];
    const topUps = () => {
      celsius += isRising ? 10 / 150 : -10 / 60;
      const high = HIGHS[turn % HIGHS.length] ?? 92;
      if (isRising && celsius >= high) [celsius, isRising] = [celsius - 2.5, false];
      else if (!isRising && celsius <= 87) [isRising, turn] = [true, turn + 1];
      return celsius;
    };
    const entries = every(10, 0, 9 * HOUR, (second) =>
      second < 6 * HOUR ? swing(90, 2, 480)(second) : topUps(),
    );
    expect(rulesOf(entries)).not.toContain('thermostat-drift');
  });
  it.each([
    { pace: 0.4, raised: false },
    { pace: 1, raised: true },
  ])('turns 2.5 K above its usual top, rising at $pace of its usual pace: a climb $raised', (climb) => {
    const usual = 6 * HOUR;
    const entries = every(10, 0, 6.5 * HOUR, (second) =>
      second < usual ? swing(90, 4, 800)(second) : Math.min(96.5, 86 + (climb.pace * (second - usual)) / 50),
    );
    expect(rulesOf(entries).includes('runaway')).toBe(climb.raised);
  });
});
