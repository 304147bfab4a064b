// Time along a chart: ticks on whole units of the lab's clock, also across a change of it. Pure.

import type { ChartAxis, ChartFormats } from './chart.ts';

const MINUTE_MILLIS = 60_000;
const DAY_MILLIS = 86_400_000;
const STEPS_MINUTES = [5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 7200, 14_400, 43_200, 86_400];
const MOST_TICKS = 9;

/** Milliseconds between two ticks of a span. */
export const tickStep = (spanMillis: number): number =>
  (STEPS_MINUTES.find((minutes) => spanMillis / (minutes * MINUTE_MILLIS) <= MOST_TICKS) ?? 86_400) *
  MINUTE_MILLIS;

/** By how much the lab's clocks are ahead of UTC at an instant. */
const zoneOffset = (at: number, timeZone: string): number => {
  const parts = new Intl.DateTimeFormat('en', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
  }).formatToParts(at);
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value ?? 0);
  const local = Date.UTC(of('year'), of('month') - 1, of('day'), of('hour'), of('minute'));
  return local - Math.floor(at / MINUTE_MILLIS) * MINUTE_MILLIS;
};

/** Instants of the ticks in `[from, to]`, epoch milliseconds. */
export const timeTicks = (from: number, to: number, timeZone: string): readonly number[] => {
  const step = tickStep(to - from);
  const local = from + zoneOffset(from, timeZone);
  const first = Math.ceil(local / step) * step;
  const ticks = Array.from({ length: MOST_TICKS + 2 }, (_, index) => {
    const wallClock = first + index * step;
    return wallClock - zoneOffset(wallClock - zoneOffset(from, timeZone), timeZone);
  });
  return [...new Set(ticks)].filter((at) => at >= from && at <= to);
};

const isMidnight = (at: number, timeZone: string): boolean =>
  (at + zoneOffset(at, timeZone)) % DAY_MILLIS === 0;

/** Ticks show the time of day, or the day: at midnight where the span is longer than a day, and on whole days. */
export const timeAxis = (from: number, to: number, formats: ChartFormats): ChartAxis => {
  const isLong = to - from > DAY_MILLIS;
  const areDays = tickStep(to - from) >= DAY_MILLIS;
  const isDay = (at: number): boolean => areDays || (isLong && isMidnight(at, formats.timeZone));
  return {
    low: from,
    high: to,
    title: '',
    ticks: timeTicks(from, to, formats.timeZone).map((value) => ({
      value,
      text: isDay(value) ? formats.day(value) : formats.clock(value),
      isMain: isDay(value),
    })),
    textOf: formats.moment,
  };
};
