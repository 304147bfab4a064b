import { describe, expect, it } from 'vitest';
import { lastDays } from './last-days.ts';

describe('the days with which the form of a record of evidence begins', () => {
  it('are the seven whole days before today in the zone of the lab', () => {
    const lateOnTuesday = Date.parse('2031-03-04T23:30:00Z');
    expect(lastDays(lateOnTuesday, 'UTC')).toEqual({ from: '2031-02-25', to: '2031-03-03' });
    expect(lastDays(lateOnTuesday, 'Europe/Berlin')).toEqual({ from: '2031-02-26', to: '2031-03-04' });
  });

  it('are seven also where a clock change lies between', () => {
    expect(lastDays(Date.parse('2031-03-31T10:00:00Z'), 'Europe/Berlin')).toEqual({
      from: '2031-03-24',
      to: '2031-03-30',
    });
  });
});
