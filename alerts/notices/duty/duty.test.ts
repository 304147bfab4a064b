import { describe, expect, it } from 'vitest';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../../../lab/notification-plan.ts';
import { dutyEnd } from './duty-end.ts';
import { onDuty } from './on-duty.ts';
import { recipientsOf } from './recipients.ts';
import { at, labWith, ROTA } from '../../../tests/duty-for-tests.ts';

const plan = (changes: Partial<NotificationPlan>): NotificationPlan => ({
  ...DEFAULT_NOTIFICATION_PLAN,
  ...changes,
});

describe('the duty', () => {
  it.each([
    ['2031-03-03T06:59:59Z', 'ida', 'before the first turn the circle goes on backwards'],
    ['2031-03-03T07:00:00Z', 'tom', 'at eight in winter'],
    ['2031-03-10T06:59:59Z', 'tom', 'a second before the handover'],
    ['2031-03-10T07:00:00Z', 'ida', 'at the handover'],
    ['2031-03-31T05:59:59Z', 'ida', 'a second before eight on the day after the clocks went forward'],
    ['2031-03-31T06:00:00Z', 'tom', 'at eight in summer'],
    ['2031-10-27T06:59:59Z', 'ida', 'a second before eight on the day after the clocks went back'],
    ['2031-10-27T07:00:00Z', 'tom', 'at eight in winter again'],
  ])('at %s is with %s: %s', (instant, who) => {
    expect(onDuty(plan({ rota: ROTA }), labWith({}), at(instant))[0]).toBe(who);
  });

  it('hands over once on a night whose handover hour is skipped or comes twice', () => {
    const spring = plan({ rota: { ...ROTA, startsOn: '2031-03-30', handoverTime: '02:30' } });
    expect(onDuty(spring, labWith({}), at('2031-03-30T00:59:00Z'))[0]).toBe('ida');
    expect(onDuty(spring, labWith({}), at('2031-03-30T01:31:00Z'))[0]).toBe('tom');
    const autumn = plan({ rota: { ...ROTA, startsOn: '2031-10-26', handoverTime: '02:30' } });
    expect(onDuty(autumn, labWith({}), at('2031-10-26T00:29:00Z'))[0]).toBe('ida');
    expect(onDuty(autumn, labWith({}), at('2031-10-26T00:30:00Z'))[0]).toBe('tom');
    expect(onDuty(autumn, labWith({}), at('2031-10-26T01:29:00Z'))[0]).toBe('tom');
  });

  it('steps over who is absent, both days included, and falls to the managers when nobody is left', () => {
    const absences = [{ person: 'tom', from: '2031-03-04', to: '2031-03-05' }];
    const withAbsences = plan({ rota: ROTA, absences });
    const who = (instant: string) => recipientsOf('on-duty', withAbsences, labWith({}), at(instant));
    expect(who('2031-03-03T12:00:00Z')).toEqual(['tom']);
    expect(who('2031-03-04T12:00:00Z')).toEqual(['ida']);
    expect(who('2031-03-05T22:59:00Z')).toEqual(['ida']);
    expect(who('2031-03-05T23:01:00Z')).toEqual(['tom']);
    const all = plan({
      rota: ROTA,
      absences: [...absences, { person: 'ida', from: '2031-03-01', to: '2031-03-31' }],
    });
    expect(recipientsOf('on-duty', all, labWith({}), at('2031-03-04T12:00:00Z'))).toEqual(['mara']);
  });

  it('notifies all managers when all of them are away', () => {
    const away = plan({ absences: [{ person: 'mara', from: '2031-01-01', to: '2031-12-31' }] });
    expect(recipientsOf('managers', away, labWith({}), at('2031-03-04T12:00:00Z'))).toEqual(['mara']);
  });

  it('is with everybody who may handle alarms while the lab has no rota', () => {
    expect(
      recipientsOf('on-duty', DEFAULT_NOTIFICATION_PLAN, labWith({}), at('2031-03-04T12:00:00Z')),
    ).toEqual(['mara', 'tom', 'ida']);
  });
});

describe('the end of a duty', () => {
  const end = (changes: Partial<NotificationPlan>, instant: string) => {
    const found = dutyEnd(plan(changes), labWith({}), at(instant));
    return found === null ? null : new Date(found).toISOString();
  };

  it.each([
    ['2031-03-10T06:59:59Z', '2031-03-10T07:00:00.000Z', 'the handover of the same day'],
    ['2031-03-10T07:00:00Z', '2031-03-17T07:00:00.000Z', 'at a handover the next one'],
    ['2031-03-26T12:00:00Z', '2031-03-31T06:00:00.000Z', 'after the clocks went forward'],
    ['2031-01-01T12:00:00Z', '2031-01-06T07:00:00.000Z', 'before the first turn'],
  ])('at %s is %s: %s', (instant, expected) => {
    expect(end({ rota: ROTA }, instant)).toBe(expected);
  });

  it('is the edge of an absence that puts somebody else on duty', () => {
    const absences = [{ person: 'tom', from: '2031-03-05', to: '2031-03-06' }];
    expect(end({ rota: ROTA, absences }, '2031-03-04T12:00:00Z')).toBe('2031-03-04T23:00:00.000Z');
    expect(end({ rota: ROTA, absences }, '2031-03-05T12:00:00Z')).toBe('2031-03-06T23:00:00.000Z');
  });

  it('passes over a handover to the same person', () => {
    const absences = [{ person: 'ida', from: '2031-03-10', to: '2031-03-23' }];
    expect(end({ rota: ROTA, absences }, '2031-03-04T12:00:00Z')).toBe('2031-03-24T07:00:00.000Z');
  });

  it('is unknown where nothing in the plan changes it', () => {
    expect(end({}, '2031-03-04T12:00:00Z')).toBeNull();
    expect(end({ rota: { ...ROTA, people: ['tom'] } }, '2031-03-04T12:00:00Z')).toBeNull();
  });
});
