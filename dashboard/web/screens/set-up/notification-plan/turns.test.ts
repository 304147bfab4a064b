import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { onDuty } from '../../../../../alerts/notices/duty/on-duty.ts';
import type { Lab } from '../../../../../lab/lab.ts';
import { DEFAULT_NOTIFICATION_PLAN } from '../../../../../lab/notification-plan.ts';
import { epochMillis } from '../../../../../wax/units.ts';
import { turnsFrom, wallClock } from './turns.ts';

const ROTA = { people: ['tom', 'ida'], startsOn: '2031-03-03', handoverTime: '08:00' };
const short = (now: string, absences: Parameters<typeof turnsFrom>[1] = [], rota = ROTA) =>
  turnsFrom(rota, absences, now, 3).map(
    ({ person, startsOn, absence }) => `${startsOn} ${person}${absence === null ? '' : ' away'}`,
  );

describe('the coming turns', () => {
  it.each([
    ['2031-03-03 08:00', ['2031-03-03 tom', '2031-03-10 ida', '2031-03-17 tom']],
    ['2031-03-10 07:59', ['2031-03-03 tom', '2031-03-10 ida', '2031-03-17 tom']],
    ['2031-03-10 08:00', ['2031-03-10 ida', '2031-03-17 tom', '2031-03-24 ida']],
    ['2031-02-26 12:00', ['2031-02-24 ida', '2031-03-03 tom', '2031-03-10 ida']],
  ])('at %s are %j', (now, expected) => {
    expect(short(now)).toEqual(expected);
  });

  it('show which of them an absence touches', () => {
    expect(short('2031-03-04 12:00', [{ person: 'ida', from: '2031-03-12', to: '2031-03-12' }])).toEqual([
      '2031-03-03 tom',
      '2031-03-10 ida away',
      '2031-03-17 tom',
    ]);
  });

  it('are none while nobody or no day is chosen', () => {
    expect(short('2031-03-04 12:00', [], { ...ROTA, people: [] })).toEqual([]);
    expect(short('2031-03-04 12:00', [], { ...ROTA, startsOn: '' })).toEqual([]);
  });

  it('begin with whom the rules take for on duty, at any instant and in any zone', () => {
    const person = (id: string) => ({ id, role: 'technician' });
    fc.assert(
      fc.property(
        fc.integer({ min: Date.parse('2030-01-01'), max: Date.parse('2032-12-31') }),
        fc.constantFrom('Europe/Berlin', 'America/St_Johns', 'Pacific/Auckland', 'UTC'),
        fc.constantFrom('00:00', '08:00', '17:30', '23:59'),
        fc.integer({ min: 1, max: 4 }),
        (at, timeZone, handoverTime, size) => {
          const people = ['a', 'b', 'c', 'd'].slice(0, size);
          const rota = { people, startsOn: '2031-03-05', handoverTime };
          const lab = { site: { timeZone }, people: people.map(person) } as unknown as Lab;
          const onDutyNow = onDuty({ ...DEFAULT_NOTIFICATION_PLAN, rota }, lab, epochMillis(at))[0];
          expect(turnsFrom(rota, [], wallClock(at, timeZone), 1)[0]?.person).toBe(onDutyNow);
        },
      ),
    );
  });
});
