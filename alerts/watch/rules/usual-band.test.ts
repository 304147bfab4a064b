// What is no habit of a heater: wax that freezes, and a band that moved because the pot holds less.

import { describe, expect, it } from 'vitest';
import { waxClass } from '../../../wax/wax-class.ts';
import { begun, every, HOUR } from '../../../tests/pot-runs.ts';
import { dipPot, labOf, probeOf } from '../../../tests/rehearsal.ts';
import { RULES } from './all-rules.ts';

describe('wax that freezes for hours before its pot is heated again', () => {
  const melted = waxClass('inlay-dip').melting.high.value;
  const lab = labOf([{ ...dipPot, window_celsius: [melted, melted + 12] }], [probeOf('p1', 'pot-1')]);
  it('is no band that its pot climbs out of', () => {
    const entries = every(30, 0, 6 * HOUR, (second) => {
      if (second < HOUR) return melted + 3;
      if (second < 4 * HOUR) return melted - 1;
      return Math.min(melted + 8, melted - 1 + (second - 4 * HOUR) / 60) + 0.3 * Math.sin(second / 50);
    });
    expect(begun(entries, lab)).not.toContain('runaway');
  });
});

describe('a band that creeps up over a day', () => {
  const kelvins = 1.8 * (RULES['probe-drift'].parameters.limit_celsius_difference?.default ?? Number.NaN);
  /** Two days; in the second its tops rise and it cycles so many times as fast in the end. */
  const creeping = (times: number) => {
    let [celsius, isRising] = [88, true];
    return (second: number) => {
      const share = Math.min(1, Math.max(0, second / HOUR - 30) / 20);
      const pace = (1 + share * (times - 1)) / 150;
      celsius += (isRising ? 30 : -30) * pace;
      if (celsius >= 91 + share * kelvins) isRising = false;
      if (celsius <= 87 + share * kelvins) isRising = true;
      return celsius;
    };
  };
  it.each([
    { times: 1, raised: true },
    { times: 1.35, raised: false },
  ])('is that of a drifting probe where it cycles $times times as fast as before: $raised', (crept) => {
    expect(begun(every(30, 0, 60 * HOUR, creeping(crept.times))).includes('probe-drift')).toBe(crept.raised);
  });
});

describe('a pot that cycles lower while its lid lies open', () => {
  const limit = RULES['probe-drift'].parameters.limit_celsius_difference?.default ?? Number.NaN;
  /** Every second hour the lid lies open; after 48 hours it cycles by so much higher on the whole. */
  const opened = (shift: number) => (second: number) => {
    const isOpen = Math.floor(second / HOUR) % 2 === 0;
    const crept = second < 48 * HOUR ? 0 : Math.min(1, second / HOUR / 12 - 4) * shift;
    const swing = 8 * Math.abs(((second / 600) % 1) - 0.5);
    return 88 + swing - (isOpen ? 6 * limit : 0) + crept;
  };
  it.each([
    { times: 0, raised: false },
    { times: 2.5, raised: true },
  ])('drifts by $times of the limit on the whole: $raised', ({ times, raised }) => {
    expect(begun(every(30, 0, 90 * HOUR, opened(times * limit))).includes('probe-drift')).toBe(raised);
  });
});

describe('a pot whose window reaches up to its ceiling, and whose turns are not known yet', () => {
  const lab = labOf([{ ...dipPot, window_celsius: [88, 100] }], [probeOf('p1', 'pot-1')]);
  /** Twenty minutes at 94 °C, then so many kelvins a minute. */
  const climbing = (perMinute: number) => (second: number) =>
    second < HOUR / 3 ? 94 + 0.2 * Math.sin(second / 40) : 94 + (perMinute * (second - HOUR / 3)) / 60;
  it('is announced on its way to the ceiling, and not for creeping there', () => {
    expect(begun(every(10, 0, 0.43 * HOUR, climbing(1)), lab)[0]).toBe('heading-over');
    expect(begun(every(10, 0, 0.8 * HOUR, climbing(0.1)), lab)).not.toContain('heading-over');
  });
  it('that swings up for the first time slows down, and is not announced', () => {
    const first = (second: number) =>
      100 - 4 - 70 * Math.exp(-second / 420) + 1.5 * Math.exp(-(((second - 2100) / 300) ** 2));
    expect(begun(every(20, 0, 1.5 * HOUR, first), lab)).not.toContain('heading-over');
  });
});

describe('a pot that works ten hours a day and in the end turns higher by 2 K', () => {
  /** Cold in the other hours; `shift`: kelvins by the hours since the third day began. */
  const worked = (shift: (hours: number) => number) => (second: number) => {
    const hour = (second / HOUR) % 24;
    if (hour > 10) return Math.max(20, 88 - 40 * (hour - 10));
    const warming = 20 + 120 * hour;
    const turning = 86 + 8 * Math.abs(((second / 600) % 1) - 0.5) + shift(second / HOUR - 72);
    return Math.min(warming, turning);
  };
  it.each([
    {
      how: 'creeping for two days',
      shift: (hours: number) => Math.min(2, Math.max(0, hours / 24)),
      times: 1,
    },
    { how: 'from one morning on', shift: (hours: number) => (hours < 0 ? 0 : 2), times: 1 },
  ])('$how is announced for its probe $times times', ({ shift, times }) => {
    const rules = begun(every(30, 0, 6 * 24 * HOUR, worked(shift)));
    expect(rules.filter((rule) => rule === 'probe-drift')).toHaveLength(times);
  });
});
