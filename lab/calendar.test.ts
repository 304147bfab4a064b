import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { type EpochMillis, MILLIS_PER_HOUR } from '../wax/units.ts';
import { isOpen, lastNight, nextOpening, nightOver, stretchAt } from './calendar.ts';
import type { Site, WorkingHours } from './lab.ts';

const NEVER: WorkingHours = { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] };
const day = [
  ['08:00', '12:00'],
  ['13:00', '17:00'],
] as const;
const WEEK: WorkingHours = {
  mon: day,
  tue: day,
  wed: day,
  thu: day,
  fri: [['08:00', '14:00']],
  sat: [],
  sun: [],
};
const site = (timeZone: string, workingHours = WEEK, holidays: readonly string[] = []): Site => ({
  id: 'north',
  name: 'North',
  timeZone,
  workingHours,
  holidays,
});
/** A local time such as `2026-03-02T08:00[Europe/Berlin]`. */
const local = (text: string): EpochMillis =>
  Temporal.ZonedDateTime.from(text).epochMilliseconds as EpochMillis;
const at = (text: string, zone: string): EpochMillis => local(`${text}[${zone}]`);

describe('working hours', () => {
  const berlin = site('Europe/Berlin', WEEK, ['2026-05-01']);

  it.each([
    ['2026-03-02T07:59:59.999', false],
    ['2026-03-02T08:00', true],
    ['2026-03-02T11:59:59.999', true],
    ['2026-03-02T12:00', false],
    ['2026-03-02T13:00', true],
    ['2026-03-02T17:00', false],
    ['2026-03-06T14:00', false],
    ['2026-03-07T10:00', false],
    ['2026-05-01T10:00', false],
    ['2026-05-04T10:00', true],
  ])('are open on the minute and closed on the minute: %s is %s', (time, open) => {
    expect(isOpen(berlin, at(time, 'Europe/Berlin'))).toBe(open);
  });

  it('name the span of the moment, and the next opening from inside and outside', () => {
    const zone = 'Europe/Berlin';
    expect(stretchAt(berlin, at('2026-03-02T09:00', zone))).toEqual({
      open: true,
      from: at('2026-03-02T08:00', zone),
      to: at('2026-03-02T12:00', zone),
    });
    expect(isOpen(berlin, at('2026-03-02T12:30', zone))).toBe(false);
    expect(nextOpening(berlin, at('2026-03-02T09:00', zone))).toBe(at('2026-03-02T13:00', zone));
    expect(nextOpening(berlin, at('2026-03-06T15:00', zone))).toBe(at('2026-03-09T08:00', zone));
  });

  it('of a lab without any are never open and have no next opening', () => {
    const closed = site('UTC', NEVER);
    expect(stretchAt(closed, at('2026-03-02T09:00', 'UTC'))).toEqual({ open: false, from: null, to: null });
    expect(nextOpening(closed, at('2026-03-02T09:00', 'UTC'))).toBeNull();
    expect(lastNight(closed, at('2026-03-02T09:00', 'UTC'))).toBeNull();
  });

  it('of a lab that never closes have neither an end nor a night', () => {
    const all = [['00:00', '24:00']] as const;
    const open = site('UTC', { mon: all, tue: all, wed: all, thu: all, fri: all, sat: all, sun: all });
    expect(stretchAt(open, at('2026-03-02T09:00', 'UTC'))).toEqual({ open: true, from: null, to: null });
    expect(lastNight(open, at('2026-03-02T09:00', 'UTC'))).toBeNull();
  });

  it('run through midnight when one day ends at 24:00 and the next begins at 00:00', () => {
    const shift = site('UTC', { ...NEVER, mon: [['18:00', '24:00']], tue: [['00:00', '02:00']] });
    expect(stretchAt(shift, at('2026-03-02T23:00', 'UTC'))).toEqual({
      open: true,
      from: at('2026-03-02T18:00', 'UTC'),
      to: at('2026-03-03T02:00', 'UTC'),
    });
  });
});

describe('a night', () => {
  const zone = 'Europe/Berlin';
  const berlin = site(zone, WEEK, ['2026-04-03', '2026-04-06']);
  const night = (closed: string, opens: string) => ({ closed: at(closed, zone), opens: at(opens, zone) });

  it.each([
    ['2026-03-03T07:00', 'before opening', '2026-03-02T17:00', '2026-03-03T08:00'],
    ['2026-03-03T09:00', 'at work', '2026-03-02T17:00', '2026-03-03T08:00'],
    ['2026-03-03T12:30', 'at lunch', '2026-03-02T17:00', '2026-03-03T08:00'],
    ['2026-03-03T18:00', 'in the evening', '2026-03-02T17:00', '2026-03-03T08:00'],
    ['2026-03-07T10:00', 'on a Saturday', '2026-03-06T14:00', '2026-03-09T08:00'],
    ['2026-03-09T10:00', 'on a Monday', '2026-03-06T14:00', '2026-03-09T08:00'],
    ['2026-04-07T09:00', 'after a long holiday weekend', '2026-04-02T17:00', '2026-04-07T08:00'],
  ])('is at %s, %s, the one from %s to %s', (time, _when, closed, opens) => {
    expect(lastNight(berlin, at(time, zone))).toEqual(night(closed, opens));
  });

  it('is found by any date that its small hours lie in', () => {
    const weekend = night('2026-03-06T14:00', '2026-03-09T08:00');
    for (const date of ['2026-03-07', '2026-03-08', '2026-03-09'])
      expect(nightOver(berlin, date)).toEqual(weekend);
  });

  it.each([
    ['Europe/Berlin', '2026-03-30', 65, 'forward over a weekend'],
    ['Europe/Berlin', '2026-10-26', 67, 'back over a weekend'],
    ['America/New_York', '2026-03-09', 65, 'forward over a weekend'],
    ['America/New_York', '2026-11-02', 67, 'back over a weekend'],
    ['Australia/Lord_Howe', '2026-04-06', 66.5, 'back by half an hour'],
    ['Australia/Lord_Howe', '2026-10-05', 65.5, 'forward by half an hour'],
    ['Asia/Kathmandu', '2026-03-30', 66, 'not at all'],
  ])('in %s that ends on %s lasts %d hours: the clocks go %s', (timeZone, date, hours) => {
    const found = nightOver(site(timeZone), date);
    expect(found).not.toBeNull();
    if (found === null) return;
    expect((found.opens - found.closed) / MILLIS_PER_HOUR).toBe(hours);
    expect(found.opens).toBe(at(`${date}T08:00`, timeZone));
  });
});

describe('the calendar', () => {
  const zones = ['Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'Africa/Cairo', 'UTC'] as const;
  const moment = fc
    .integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2027, 0, 1) })
    .map((value) => value as EpochMillis);

  it('agrees with the clock on the wall at every instant', () => {
    fc.assert(
      fc.property(fc.constantFrom(...zones), moment, (zone, instant) => {
        const wall = Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(zone);
        const minutes = wall.hour * 60 + wall.minute;
        const friday = wall.dayOfWeek === 5 && minutes >= 480 && minutes < 840;
        const weekday =
          wall.dayOfWeek < 5 && ((minutes >= 480 && minutes < 720) || (minutes >= 780 && minutes < 1020));
        expect(isOpen(site(zone), instant)).toBe(friday || weekday);
      }),
    );
  });

  it('answers the same from memory as anew, in whatever order it is called', () => {
    const remembering = site('Europe/Berlin');
    fc.assert(
      fc.property(moment, (instant) => {
        expect(stretchAt(remembering, instant)).toEqual(stretchAt(site('Europe/Berlin'), instant));
        expect(lastNight(remembering, instant)).toEqual(lastNight(site('Europe/Berlin'), instant));
      }),
    );
  });
});
