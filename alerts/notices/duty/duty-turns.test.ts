import { describe, expect, it } from 'vitest';
import type { Lab } from '../../../lab/lab.ts';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../../../lab/notification-plan.ts';
import type { Person } from '../../../lab/person.ts';
import { epochMillis } from '../../../wax/units.ts';
import { dutyTurns } from './duty-turns.ts';

const person = (id: string): Person => ({
  id,
  name: id,
  role: 'technician',
  language: 'en',
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: false,
});
const closed = { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] };
const lab: Lab = {
  site: { id: 'lab', name: 'Lab', timeZone: 'Europe/Berlin', workingHours: closed, holidays: [] },
  stations: [],
  probes: [],
  charges: [],
  patterns: [],
  people: [person('ada'), person('ben')],
  waxOverrides: {},
};
const plan: NotificationPlan = {
  ...DEFAULT_NOTIFICATION_PLAN,
  rota: { people: ['ada', 'ben'], startsOn: '2031-03-03', handoverTime: '08:00' },
};
const at = (text: string) => epochMillis(Date.parse(text));
const turns = (given: NotificationPlan, from: string, to: string) =>
  dutyTurns(given, lab, at(from), at(to)).map(({ person: id, from: start, to: end }) => [
    id,
    new Date(start).toISOString().slice(0, 16),
    new Date(end).toISOString().slice(0, 16),
  ]);

describe('the turns of duty ahead', () => {
  it('go from handover to handover by the clock of the lab, over the change to summer time', () => {
    expect(turns(plan, '2031-03-20T00:00:00Z', '2031-04-07T00:00:00Z')).toEqual([
      ['ada', '2031-03-17T07:00', '2031-03-24T07:00'],
      ['ben', '2031-03-24T07:00', '2031-03-31T06:00'],
      ['ada', '2031-03-31T06:00', '2031-04-07T06:00'],
    ]);
  });

  it('are cut where an absence begins and ends, and the next one takes over', () => {
    const away = { ...plan, absences: [{ person: 'ada', from: '2031-03-19', to: '2031-03-20' }] };
    expect(turns(away, '2031-03-18T00:00:00Z', '2031-03-24T00:00:00Z')).toEqual([
      ['ada', '2031-03-17T07:00', '2031-03-18T23:00'],
      ['ben', '2031-03-18T23:00', '2031-03-20T23:00'],
      ['ada', '2031-03-20T23:00', '2031-03-24T07:00'],
    ]);
  });

  it('are nobody’s while everybody is absent, and none are there without a rota', () => {
    const everyone = ['ada', 'ben'].map((id) => ({ person: id, from: '2031-03-01', to: '2031-12-31' }));
    expect(turns({ ...plan, absences: everyone }, '2031-03-20T00:00:00Z', '2031-04-07T00:00:00Z')).toEqual(
      [],
    );
    expect(turns(DEFAULT_NOTIFICATION_PLAN, '2031-03-20T00:00:00Z', '2031-04-07T00:00:00Z')).toEqual([]);
  });
});
