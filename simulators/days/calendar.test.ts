import { describe, expect, it } from 'vitest';
import { calendar, HOUR, isInHours, type LabHours } from './calendar.ts';

const HOURS: LabHours = {
  timeZone: 'Europe/Berlin',
  days: ['Mon', 'Tue', 'Wed', 'Thu', 'Fri'],
  from: '07:30',
  to: '17:00',
  pauses: [['12:00', '12:45']],
};

describe('the days of a case', () => {
  it('open by the lab’s own clock before and after the clocks change', () => {
    const days = calendar(HOURS, '2026-03-27', 4, []);
    expect(days.map(({ work }) => work && new Date(work.opens).toISOString())).toEqual([
      '2026-03-27T06:30:00.000Z',
      null,
      null,
      '2026-03-30T05:30:00.000Z',
    ]);
  });

  it('last 23 hours where the clock goes forward and 25 where it goes back', () => {
    const hours = (date: string) =>
      calendar(HOURS, date, 1, []).map(({ start, end }) => (end - start) / HOUR);
    expect(hours('2026-03-29')).toEqual([23]);
    expect(hours('2026-10-25')).toEqual([25]);
  });

  it('keep their hours on a holiday, on which nobody works', () => {
    const [day] = calendar(HOURS, '2026-05-01', 1, ['2026-05-01']);
    expect(day?.hours?.pauses).toHaveLength(1);
    expect(day?.work).toBeNull();
  });

  it('are in hours from opening to closing, the first instant included and the last not', () => {
    const days = calendar(HOURS, '2026-02-02', 1, []);
    const { opens = 0, closes = 0 } = days[0]?.hours ?? {};
    expect([opens - 1, opens, closes - 1, closes].map((at) => isInHours(days, at))).toEqual([
      false,
      true,
      true,
      false,
    ]);
  });
});
