// A lab with a notification plan, and alarms that are raised in it, for tests of duty and escalation.

import type { Lab } from '../lab/lab.ts';
import type { Person, Role } from '../lab/person.ts';
import { DEFAULT_NOTIFICATION_PLAN, type NotificationPlan } from '../lab/notification-plan.ts';
import { epochMillis } from '../wax/units.ts';

export const at = (text: string) => epochMillis(Date.parse(text));
const person = (id: string, role: Role): Person => ({
  id,
  name: id,
  role,
  language: 'en',
  temperatureUnit: 'celsius',
  hourCycle: 'h23',
  email: null,
  namesOnLockScreen: false,
  morningHeartbeat: id === 'mara',
});
const day = [['08:00', '17:00']] as const;
export const labWith = (changes: Partial<NotificationPlan>, people?: readonly Person[]): Lab => ({
  site: {
    id: 'lab',
    name: 'Lab',
    timeZone: 'Europe/Berlin',
    holidays: ['2031-05-01'],
    workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
  },
  stations: [],
  probes: [],
  charges: [],
  patterns: [],
  waxOverrides: {},
  people: people ?? [person('mara', 'manager'), person('tom', 'technician'), person('ida', 'technician')],
  notificationPlan: { ...DEFAULT_NOTIFICATION_PLAN, ...changes },
});
export const ROTA = { people: ['tom', 'ida'], startsOn: '2031-03-03', handoverTime: '08:00' };
