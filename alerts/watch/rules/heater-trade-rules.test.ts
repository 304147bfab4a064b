// What a heater's own behaviour shows of it: thermostat, level, evenness, setting, cleanliness.

import { describe, expect, it } from 'vitest';
import type { Pattern } from '../../../lab/pattern.ts';
import { begun, every, HOUR } from '../../../tests/pot-runs.ts';
import { actAt, dipPot, labOf, potLab, probeOf, START, waterBath } from '../../../tests/rehearsal.ts';
import { waxClass } from '../../../wax/wax-class.ts';
import { stationKey } from '../engine/state/memory.ts';
import { waxWatch } from '../wax-watch.ts';
import { RULES, type RuleKind } from './all-rules.ts';

/** The default of a figure: its edge is tested, not its value. */
const figure = (kind: RuleKind, name: string) => RULES[kind].parameters[name]?.default ?? Number.NaN;

/** In the middle of what its wax melts over, °C. */
const { low, high } = waxClass('inlay-dip').melting;
const MELTING = (low.value + high.value) / 2;

/** Rising and falling evenly by `kelvins` around 90 °C. */
const swing =
  (periodSeconds: number, kelvins: number) =>
  (second: number): number =>
    90 + kelvins * (1 - 4 * Math.abs(((second / periodSeconds) % 1) - 0.5));
/** Six hours of 4 °C up and down within 400 s, then differently for two. */
const cycling = (later: (second: number) => number) =>
  every(10, 0, 8 * HOUR, (second) => (second < 6 * HOUR ? swing(400, 2)(second) : later(second)));

/** Six hours of 4 °C up and down within 400 s, then each cycle as it is given: its top, °C, and its rise, seconds. */
const raggedly = (tops: readonly number[], riseSeconds: readonly number[]) => {
  const turns: [second: number, celsius: number][] = [[6 * HOUR, 88]];
  tops.forEach((top, index) => {
    const [from = 0] = turns.at(-1) ?? [];
    const rise = riseSeconds[index % riseSeconds.length] ?? 200;
    turns.push([from + rise, top], [from + rise + (top - 88) * 50, 88]);
  });
  return cycling((second) => {
    const next = turns.findIndex(([at]) => at > second);
    const [[from, low] = [0, 88], [to, high] = [1, 88]] = [turns[next - 1], turns[next]];
    return next < 1 ? 88 : low + ((high - low) * (second - from)) / (to - from);
  });
};

describe('a thermostat', () => {
  const band = (second: number) => 88 + Math.sin(second / 60);
  it('that lets a settled pot rise out of its band is raised, within the window already', () => {
    const away = every(10, 0, 4 * HOUR, (second) =>
      second < 3 * HOUR ? band(second) : 89 + (second - 3 * HOUR) / 300,
    );
    expect(begun(away)).toContain('runaway');
    expect(begun(every(10, 0, 4 * HOUR, band))).toEqual([]);
  });
  it.each([
    { rhythm: 'stays the same', raised: false, later: swing(400, 2) },
    { rhythm: 'turns twice as often, nearly as far', raised: true, later: swing(200, 1.3) },
    { rhythm: 'swings four fifths as far', raised: false, later: swing(400, 1.6) },
  ])('whose rhythm $rhythm has drifted: $raised', ({ later, raised }) => {
    expect(begun(cycling(later)).includes('thermostat-drift')).toBe(raised);
  });
  it.each([
    {
      tops: [91, 92, 90.8, 91.9, 90.5, 91.7],
      rises: [320, 480, 250, 390],
      is: 'ragged and slow',
      raised: true,
    },
    { tops: [92, 92, 92, 92, 92, 92], rises: [320, 480, 250, 390], is: 'slow alone', raised: false },
    {
      tops: [91, 92, 90.8, 91.9, 90.5, 91.7],
      rises: [150, 200, 140, 190],
      is: 'ragged alone',
      raised: false,
    },
    {
      tops: [93.8, 90.6, 93.6, 90.8, 93.7, 90.4],
      rises: [500, 200, 480, 220, 490, 190],
      is: 'ragged about the usual tops, and longer',
      raised: true,
    },
    {
      tops: [93.8, 90.6, 93.6, 90.8, 93.7, 90.4],
      rises: [200, 80, 190, 90, 195, 80],
      is: 'ragged about the usual tops, and no longer',
      raised: false,
    },
  ])('whose cycles are $is has drifted after six of them: $raised', ({ tops, rises, raised }) => {
    expect(begun(raggedly(tops, rises)).includes('thermostat-drift')).toBe(raised);
  });
  it('that swings twice as far as usual has let the heater run past its usual top', () => {
    expect(begun(cycling(swing(800, 4)))).toContain('runaway');
  });
});

describe('a pot', () => {
  /** The cold starts of days that follow each other, each as long as given. */
  const warmUps = (minutes: readonly number[]) =>
    minutes.flatMap((length, index) =>
      every(30, index * 24 * HOUR, index * 24 * HOUR + 3 * HOUR, (second) => {
        const past = second - index * 24 * HOUR;
        return Math.min(90, 20 + (70 * past) / (length * 60));
      }),
    );
  it.each([
    { last: 36, raised: false },
    { last: 20, raised: true },
  ])('that usually takes 40 min and now $last min is low: $raised', ({ last, raised }) => {
    expect(begun(warmUps([40, 40, 40, 40, last])).includes('low-pot')).toBe(raised);
  });
  it('is due for cleaning after its hours of molten wax, and not once it was cleaned', () => {
    const lab = potLab(1, { 'cleaning-due': { limit_hours: 2 } });
    const hot = every(60, 0, 2 * HOUR + 60, () => 90);
    expect(begun(hot.slice(0, 115), lab)).not.toContain('cleaning-due');
    expect(begun(hot, lab)).toContain('cleaning-due');
    const cleaned = actAt(HOUR, { type: 'cleaned', station: 'pot-1', by: 'Mira' });
    const inTime = [...hot, cleaned].sort((a, b) => a.receivedAt - b.receivedAt);
    expect(begun(inTime, lab)).not.toContain('cleaning-due');
  });
  it.each([
    { next: 'lies frozen halfway', risingAMinute: 0, first: 'no-heat' },
    { next: 'melts again at once', risingAMinute: 1, first: undefined },
  ])('whose wax was molten and $next: $first', ({ risingAMinute, first }) => {
    // Too short a time at work to learn what is usual.
    const [off, fallen] = [900, 4500];
    const falling = (second: number) => 90 - ((90 - MELTING) * (second - off)) / (fallen - off);
    const after = (second: number) => Math.min(90, MELTING + (risingAMinute * (second - fallen)) / 60);
    const wax = (second: number) =>
      second < off ? swing(400, 0.5)(second) : second < fallen ? falling(second) : after(second);
    const rules = begun(every(10, 0, 2.2 * HOUR, wax)).filter((rule) => /no-heat|outside-window/.test(rule));
    expect(rules.at(0)).toBe(first);
  });
  it.each([
    { minutes: -1, raised: false },
    { minutes: 2, raised: true },
  ])(
    'that was warmed up at ten on one day and not on the next one lacks heat: $raised',
    ({ minutes, raised }) => {
      // It is no longer cold after seven minutes.
      const [on, off, isWarm] = [HOUR, 7 * HOUR, 7 * 60];
      const firstDay = (second: number) =>
        second < off
          ? Math.min(90, 20 + Math.max(0, second - on) / 28)
          : Math.max(20, 90 - (second - off) / 60);
      const announced =
        60 * Math.SQRT2 * figure('no-heat', 'late_minutes') + figure('no-heat', 'on_delay_seconds');
      const until = 24 * HOUR + on + isWarm + announced + 60 * minutes;
      expect(begun(every(60, 0, until, firstDay)).includes('no-heat')).toBe(raised);
    },
  );
  it('that stands still below its window in working hours has no heat', () => {
    const stuck = every(30, 0, 2 * HOUR, (second) => Math.min(22 + second / 60, 48));
    expect(begun(stuck)).toContain('no-heat');
    expect(begun(every(30, 0, 2 * HOUR, (second) => Math.min(22 + second / 60, 90)))).not.toContain(
      'no-heat',
    );
  });
});

describe('an annealer', () => {
  const lab = labOf(
    [{ ...dipPot, kind: 'annealer', wax: 'inlay-type-1', window_celsius: [45, 55], ceiling_celsius: 60 }],
    [
      probeOf('p1', 'pot-1', { uncertainty_celsius: 0.3 }),
      probeOf('p2', 'pot-1', { uncertainty_celsius: 0.4 }),
    ],
  );
  const limit =
    figure('uneven-annealer', 'limit_celsius_difference') * figure('uneven-annealer', 'early_share');
  // Twenty minutes to settle.
  const raised = 1200 + figure('uneven-annealer', 'on_delay_seconds');
  it.each([
    { spread: limit - 0.01, until: 2 * HOUR, is: false },
    { spread: limit + 0.01, until: raised - 20, is: false },
    { spread: limit + 0.01, until: raised + 20, is: true },
  ])('whose probes differ by $spread °C for $until s is uneven: $is', ({ spread, until, is }) => {
    const pair = [...every(10, 0, until, () => 52), ...every(10, 1, until, () => 52 - spread, 'p2')];
    const inTime = pair.sort((a, b) => a.receivedAt - b.receivedAt);
    expect(begun(inTime, lab).includes('uneven-annealer')).toBe(is);
  });

  it.each(['p1', 'p2'])(
    'whose places part after an even hour is uneven within minutes, when %s is colder',
    (colder) => {
      const parted = HOUR + 2 * 60;
      const at = (probe: string, offset: number) =>
        every(10, offset, parted + 300, (second) => (probe === colder && second > parted ? 47 : 52), probe);
      const pair = [...at('p1', 0), ...at('p2', 1)].sort((a, b) => a.receivedAt - b.receivedAt);
      expect(begun(pair, lab)).toContain('uneven-annealer');
    },
  );
  it('whose probes are read a minute apart, within seconds of each other, is not uneven for a door between two readings', () => {
    const inside = (colder: number, falls: number) => (second: number) => {
      const isOpen = second > 2 * HOUR && (second - 2 * HOUR) % 1200 < 90;
      return 52 - colder + Math.sin(second / 32) - (isOpen ? falls : 0);
    };
    const pair = [
      ...every(60, 5, 6 * HOUR, inside(0, 3)),
      ...every(60, 0, 6 * HOUR, inside(1.9, 6), 'p2'),
    ].sort((a, b) => a.receivedAt - b.receivedAt);
    expect(begun(pair, lab)).not.toContain('uneven-annealer');
  });
  it('whose warmer probe misses readings for some minutes had no door and is no warmer', () => {
    const isMissing = (second: number) => second > 4000 && second < 4200;
    const warmer = every(10, 0, 2 * HOUR, () => 52).filter((_, index) => !isMissing(10 * index));
    const pair = [...warmer, ...every(10, 1, 2 * HOUR, () => 50, 'p2')];
    const inTime = pair.sort((a, b) => a.receivedAt - b.receivedAt);
    const { state } = waxWatch.stepAll(waxWatch.initial(), inTime, lab);
    expect(state[stationKey('pot-1')]?.doors?.openings).toEqual([]);
  });

  const needed = figure('soak-incomplete', 'needed_minutes');
  /** From 51 °C down to 48 within a minute, up to its top within two, and back into its swing within two more. */
  const door = (past: number, top: number): number | null => {
    if (past < 0 || past > 300) return null;
    if (past <= 60) return 51 - past / 20;
    return past <= 180 ? 48 + ((top - 48) * (past - 60)) / 120 : top + ((50 - top) * (past - 180)) / 120;
  };
  const alone = labOf([...lab.stations], [probeOf('p1', 'pot-1')]);
  it.each([
    { doors: 'a cold load and, too soon, a load taken out', tops: [50.3, 51.9], after: 0.5, raised: true },
    { doors: 'a load taken out after its time', tops: [50.3, 51.9], after: 1.2, raised: false },
    { doors: 'a load taken out and a cold one soon after', tops: [51.9, 50.3], after: 0.5, raised: false },
    { doors: 'two looks inside', tops: [51, 51], after: 0.5, raised: false },
  ])('whose door shows $doors reports it as soaked too short: $raised', ({ tops, after, raised }) => {
    const first = 4 * HOUR;
    const second = first + after * needed * 60;
    const [topAfterFirst = 51, topAfterSecond = 51] = tops;
    const entries = every(10, 0, second + 1200, (at) => {
      const swing = 50 + 0.6 * (1 - 4 * Math.abs(((at / 240) % 1) - 0.5));
      return door(at - second, topAfterSecond) ?? door(at - first, topAfterFirst) ?? swing;
    });
    expect(begun(entries, alone).includes('soak-incomplete')).toBe(raised);
  });
});

describe('a bath', () => {
  const lab = labOf([waterBath], [probeOf('p1', 'pot-1')]);
  it('that has settled outside the window of its wax is set for another, and raised once', () => {
    const settled = every(10, 0, HOUR, (second) => 39 + 0.2 * Math.sin(second / 60));
    expect(begun(settled, lab)).toContain('wrong-bath');
    expect(
      begun(
        every(10, 0, HOUR, () => 43),
        lab,
      ),
    ).toEqual([]);
  });
});

describe('patterns of a wax that the place was not meant for', () => {
  const pattern = (id: string): Pattern => ({
    id,
    caseReference: id,
    wax: 'utility',
    technique: 'sheet',
    length_millimetres: 30,
    tolerance_micrometres: 100_000,
    madeAt: new Date(START).toISOString(),
    madeBy: 'Mira',
    stays: [{ station: 'shelf-1', from: new Date(START).toISOString(), to: null }],
    fate: null,
  });
  it('are raised of by one alarm for the place', () => {
    const lab = labOf(
      [{ id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: null }],
      [probeOf('p1', 'shelf-1')],
      { patterns: [pattern('w1'), pattern('w2')], waxOverrides: { utility: { storageMax: 22 } } },
    );
    expect(
      begun(
        every(60, 0, 1500, () => 22.5),
        lab,
      ),
    ).toEqual(['pattern-warm']);
    expect(
      begun(
        every(60, 0, 1500, () => 22),
        lab,
      ),
    ).toEqual([]);
  });
  it('are raised of on Friday, in the last hours before closing, when they will not keep until Monday', () => {
    // Second 0 is Wednesday 09:00; Friday closes at 18:00, three hours before that is second 194 400.
    const lab = (tolerance_micrometres: number) =>
      labOf([{ id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: null }], [probeOf('p1', 'shelf-1')], {
        patterns: [{ ...pattern('w1'), wax: 'inlay-type-1', technique: 'layered', tolerance_micrometres }],
      });
    const until = (second: number) => every(600, 0, second, () => 22.5);
    expect(begun(until(57 * HOUR), lab(1))).toContain('pattern-weekend');
    expect(begun(until(54 * HOUR - 600), lab(1))).not.toContain('pattern-weekend');
    expect(begun(until(57 * HOUR), lab(100_000))).not.toContain('pattern-weekend');
  });
});
