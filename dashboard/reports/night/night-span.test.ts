import { describe, expect, it } from 'vitest';
import type { Site } from '../../../lab/lab.ts';
import { epochMillis } from '../../../wax/units.ts';
import { latestNight, nightAsHeld, nightOf, nightsOfMonth } from './night-span.ts';

const day = [['07:30', '17:30']] as const;
const BERLIN: Site = {
  id: 'lab',
  name: 'Lab',
  timeZone: 'Europe/Berlin',
  workingHours: { mon: day, tue: day, wed: day, thu: day, fri: [['07:30', '14:30']], sat: [], sun: [] },
  holidays: ['2026-12-24', '2026-12-25'],
};
const NO_HOURS: Site = {
  ...BERLIN,
  workingHours: { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
};
const hours = (span: { readonly from: number; readonly opens: number }) =>
  (span.opens - span.from) / 3_600_000;
const at = (text: string) => epochMillis(Date.parse(text));

describe('a night', () => {
  it('goes from closing to opening and is named by its morning', () => {
    const night = nightOf(BERLIN, '2026-11-25');
    expect(new Date(night.from).toISOString()).toBe('2026-11-24T16:30:00.000Z');
    expect(new Date(night.opens).toISOString()).toBe('2026-11-25T06:30:00.000Z');
    expect(night.date).toBe('2026-11-25');
    expect(hours(night)).toBe(14);
  });
  it('is a weekend as a whole, whichever of its days is given, and longer or shorter where clocks change', () => {
    const usual = nightOf(BERLIN, '2026-11-23');
    expect(hours(usual)).toBe(65);
    for (const date of ['2026-11-21', '2026-11-22']) expect(nightOf(BERLIN, date)).toEqual(usual);
    // Clocks go forward on 29 March 2026 and back on 25 October 2026, both on a Sunday.
    expect(hours(nightOf(BERLIN, '2026-03-29'))).toBe(64);
    expect(hours(nightOf(BERLIN, '2026-10-25'))).toBe(66);
  });
  it('is thirteen or fifteen hours where clocks change in a working week', () => {
    const everyDay: Site = {
      ...BERLIN,
      workingHours: { ...BERLIN.workingHours, fri: day, sat: day, sun: day },
    };
    expect(hours(nightOf(everyDay, '2026-03-29'))).toBe(13);
    expect(hours(nightOf(everyDay, '2026-10-25'))).toBe(15);
  });
  it('takes holidays in', () => {
    const night = nightOf(BERLIN, '2026-12-24');
    expect(night.date).toBe('2026-12-28');
    expect(new Date(night.from).toISOString()).toBe('2026-12-23T16:30:00.000Z');
  });
  it('has the hours that held when it was, whatever the lab has changed since', () => {
    const longer: Site = { ...BERLIN, workingHours: { ...BERLIN.workingHours, tue: [['06:00', '20:00']] } };
    const changed = at('2026-11-26T09:00:00Z');
    const siteAt = (instant: number) => (instant < changed ? BERLIN : longer);
    expect(hours(nightAsHeld(siteAt, longer, '2026-11-25'))).toBe(14);
    expect(hours(nightAsHeld(siteAt, longer, '2026-12-02'))).toBe(11.5);
    const nights = nightsOfMonth(siteAt, longer, '2026-11', at('2026-12-31T00:00:00Z'));
    expect(nights.find(({ date }) => date === '2026-11-25')).toEqual(nightOf(BERLIN, '2026-11-25'));
  });
  it('is a usual one, and marked as such, where no hours are set', () => {
    const night = nightOf(NO_HOURS, '2026-11-25');
    expect(night.hoursKnown).toBe(false);
    expect(hours(night)).toBe(13);
    expect(latestNight(NO_HOURS, at('2026-11-25T12:00:00Z'))).toEqual(night);
  });
  it('is last night in the morning and by day, and the running one before the opening', () => {
    const night = nightOf(BERLIN, '2026-11-25');
    expect(latestNight(BERLIN, at('2026-11-25T07:00:00Z'))).toEqual(night);
    expect(latestNight(BERLIN, at('2026-11-25T20:00:00Z'))).toEqual(night);
    expect(latestNight(BERLIN, at('2026-11-25T04:00:00Z'))).toEqual(night);
  });
});

describe('the nights of a month', () => {
  it('are each counted once, by the morning of their opening', () => {
    const nights = nightsOfMonth(() => BERLIN, BERLIN, '2026-11', at('2026-12-31T00:00:00Z'));
    const dates = nights.map(({ date }) => date);
    expect(dates).toHaveLength(21);
    expect(new Set(dates).size).toBe(21);
    expect(dates[0]).toBe('2026-11-02');
    expect(dates.at(-1)).toBe('2026-11-30');
  });
  it('end with the one that has begun', () => {
    const nights = nightsOfMonth(() => BERLIN, BERLIN, '2026-11', at('2026-11-04T03:00:00Z'));
    expect(nights.map(({ date }) => date)).toEqual(['2026-11-02', '2026-11-03', '2026-11-04']);
  });
});
