import { describe, expect, it } from 'vitest';
import type { Lab } from '../../../lab/lab.ts';
import type { Person } from '../../../lab/person.ts';
import { epochMillis } from '../../../wax/units.ts';
import { normalAlarm } from '../../watch/life/alarm-step.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { noticeText } from './notice-text.ts';

const at = epochMillis(Date.parse('2031-03-04T11:20:00Z'));
const lab: Lab = {
  site: { id: 'lab', name: 'Lab', timeZone: 'Europe/Berlin', holidays: [], workingHours: {} as never },
  stations: [{ id: 'pot-1', name: 'Melt pot 1', kind: 'melt-pot', wax: 'inlay-type-2' }],
  probes: [],
  charges: [],
  patterns: [],
  waxOverrides: {},
  people: [],
};
const reader = (change: Partial<Person>): Person => ({
  id: 'tom',
  name: 'Tom',
  role: 'technician',
  language: 'en',
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: false,
  ...change,
});
const identity = { rule: 'over-ceiling', subject: 'pot-1', subjectKind: 'station' } as const;
const calling: Alarm = {
  ...normalAlarm({ ...identity, priority: 'high', latches: false }, at),
  active: true,
  acknowledged: false,
  count: 1,
  evidence: { peak_celsius: 131.5 },
};
const aside = (change: Partial<Alarm>, person: Person) =>
  noticeText(
    {
      rows: [
        {
          channel: 'push',
          kind: 'put-aside',
          isRepeat: false,
          body: { at, by: 'Mara', alarm: { ...calling, ...change } },
        },
      ],
      rest: [],
    },
    lab,
    person,
    1,
  );

describe('a notice of an alarm that was shelved or suppressed', () => {
  const shelved = { shelvedUntil: epochMillis(Date.parse('2031-03-04T13:00:00Z')) };
  const behind = { suppressedBy: 'behind:fire-risk' };
  it.each<[string, Partial<Alarm>, Partial<Person>]>([
    ['Shelved by Mara until 14:00: Melt pot 1', shelved, {}],
    ['Shelved by Mara until 02:00 pm: Melt pot 1', shelved, { hourCycle: 'h12' }],
    ['Aufgeschoben von Mara bis 14:00: Melt pot 1', shelved, { language: 'de' }],
    ['Suppressed (follows from “Fire risk”): Melt pot 1', behind, {}],
    ['Unterdrückt (Folge von „Brandgefahr“): Melt pot 1', behind, { language: 'de' }],
    ['Taken out of service by Mara: Melt pot 1', { outOfService: true, ...behind }, {}],
    ['Außer Betrieb genommen von Mara: Melt pot 1', { outOfService: true }, { language: 'de' }],
  ])('is titled "%s" and asks for nothing', (title, change, person) => {
    const text = aside(change, reader(person));
    expect(text.title).toBe(title);
    expect([text.action, text.caution]).toEqual(['', '']);
    expect(text.text).not.toBe('');
  });
});
