import { describe, expect, it } from 'vitest';
import type { Site } from '../../../lab/lab.ts';
import { epochMillis } from '../../../wax/units.ts';
import { nightToMail } from './mail-plan.ts';

const day = [['07:30', '17:30']] as const;
const SITE: Site = {
  id: 'lab',
  name: 'Lab',
  timeZone: 'Europe/Berlin',
  workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
  holidays: [],
};
const due = (time: string, now: string) =>
  nightToMail(SITE, time, epochMillis(Date.parse(now)))?.date ?? null;

describe('the post of the night sheet', () => {
  it.each([
    // 07:30 in Berlin is 06:30 UTC in winter and 05:30 in summer.
    ['opening', '2026-11-25T06:29:59Z', null],
    ['opening', '2026-11-25T06:30:00Z', '2026-11-25'],
    ['opening', '2026-07-01T05:29:59Z', null],
    ['opening', '2026-07-01T05:30:00Z', '2026-07-01'],
    ['08:15', '2026-11-25T07:14:59Z', null],
    ['08:15', '2026-11-25T07:15:00Z', '2026-11-25'],
    // A time before the opening waits for it: the night is not over.
    ['05:00', '2026-11-25T06:00:00Z', null],
    ['05:00', '2026-11-25T06:30:00Z', '2026-11-25'],
    // After a weekend it is one sheet, on Monday.
    ['opening', '2026-11-22T10:00:00Z', null],
    ['opening', '2026-11-23T06:31:00Z', '2026-11-23'],
    ['off', '2026-11-25T10:00:00Z', null],
  ])('set to %s is due at %s: %s', (time, now, date) => {
    expect(due(time, now)).toBe(date);
  });
  it('is no news after half a day', () => {
    expect(due('opening', '2026-11-25T18:29:00Z')).toBe('2026-11-25');
    expect(due('opening', '2026-11-25T18:31:00Z')).toBeNull();
  });
});
