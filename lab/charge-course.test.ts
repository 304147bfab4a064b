import { describe, expect, it } from 'vitest';
import { epochMillis, MILLIS_PER_DAY, MILLIS_PER_HOUR } from '../wax/units.ts';
import { waxClass } from '../wax/wax-class.ts';
import { type ChargeCourseInput, chargeCourse } from './charge-course.ts';
import type { Site } from './lab.ts';

const day = [['08:00', '16:00']] as const;
const site: Site = {
  id: 'lab',
  name: 'Lab',
  timeZone: 'UTC',
  workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: day, sun: day },
  holidays: [],
};
const wax = waxClass('inlay-type-2', { doseAllowance: 64 });
const start = Date.parse('2031-03-03T00:00:00Z');
const reference = wax.kinetics.reference.value;

/** At the reference temperature from 8 to `until` on each of so many days, 20 °C otherwise. */
const course = (days: number, until: number, more: Partial<ChargeCourseInput> = {}) => {
  const means = Array.from({ length: days * 96 }, (_, index) => {
    const at = epochMillis(start + (index * MILLIS_PER_HOUR) / 4);
    const hour = (index % 96) / 4;
    return { at, celsius: hour >= 8 && hour <= until ? reference : 20 };
  });
  return chargeCourse({
    charge: {
      id: 'c',
      station: 'pot',
      wax: 'inlay-type-2',
      grams: 100,
      startedAt: new Date(start).toISOString(),
      topUps: [],
      cleanedAt: null,
      endedAt: null,
    },
    means,
    spanSeconds: 900,
    wax,
    windowLow: reference - 20,
    site,
    now: epochMillis(start + days * MILLIS_PER_DAY),
    ...more,
  });
};

describe('the course of a charge', () => {
  it('counts an hour at the reference temperature as an hour', () => {
    const hours = course(2, 16).curve.at(-1)?.hours ?? 0;
    expect(hours).toBeGreaterThan(16);
    // Up and down once a day within a quarter of an hour each.
    expect(hours).toBeLessThan(17);
  });
  it('names the day on which eight hours a day use up sixty-four', () => {
    // Four days leave about 33 hours used; four more days make it more than 64.
    const { spentAt } = course(4, 16);
    expect(new Date(spentAt ?? 0).toISOString()).toBe('2031-03-10T12:00:00.000Z');
  });
  it('names no day while less than a day is known', () => {
    expect(course(0.5, 16).spentAt).toBeNull();
  });
  it('takes the fresh share of a top-up off the dose', () => {
    const at = new Date(start + 20 * MILLIS_PER_HOUR).toISOString();
    const plain = course(1, 16).curve.at(-1)?.hours ?? 0;
    const charge = {
      id: 'c',
      station: 'pot',
      wax: 'inlay-type-2' as const,
      grams: 100,
      startedAt: new Date(start).toISOString(),
      topUps: [{ at, fraction: 0.25, by: 'Tom' }],
      cleanedAt: null,
      endedAt: null,
    };
    expect(course(1, 16, { charge }).curve.at(-1)?.hours).toBeCloseTo(plain * 0.75, 6);
  });
  it('gives what hours after closing cost, and nothing of the kind when there are none', () => {
    expect(course(2, 15.5).outsideHours).toBeLessThan(0.04);
    expect(course(2, 20).outsideHours).toBeGreaterThan(0.3);
  });
  it('proposes no temperature below the window', () => {
    expect(course(1, 16, { windowLow: reference }).cooler).toBeNull();
    expect(course(1, 16, { windowLow: reference - 3 }).cooler?.celsius).toBeLessThanOrEqual(3);
    const share = course(1, 16).cooler?.share ?? 0;
    expect(share).toBeGreaterThan(0);
    expect(share).toBeLessThan(1);
  });
});
