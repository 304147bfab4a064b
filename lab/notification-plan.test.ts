import { expect, it } from 'vitest';
import { readLabFile } from './lab-file/read-lab-file.ts';
import { DEFAULT_NOTIFICATION_PLAN } from './notification-plan.ts';
import { writeLabFile } from './lab-file/write-lab-file.ts';

const FILE = `
site: { id: lab, name: Lab, time_zone: Europe/Berlin }
people:
  - { id: tom, name: Tom, role: technician, email: tom@lab.example, mail: always }
notification_plan:
  rota: { people: [tom], starts_on: 2031-03-03, handover_time: "08:00" }
  heartbeat_at: "07:30"
  webhooks: [{ id: chat, name: Chat, url: "https://chat.lab.example/in" }]
`;

it('a notification plan in the lab file reads back as the same plan, with defaults for what it does not name', () => {
  const reading = readLabFile(FILE);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  expect(reading.lab.notificationPlan).toEqual({
    ...DEFAULT_NOTIFICATION_PLAN,
    rota: { people: ['tom'], startsOn: '2031-03-03', handoverTime: '08:00' },
    heartbeatAt: '07:30',
    webhooks: [{ id: 'chat', name: 'Chat', url: 'https://chat.lab.example/in', template: null }],
  });
  expect(reading.lab.people[0]?.mail).toBe('always');
  const written = writeLabFile(reading.lab);
  expect(written).not.toContain('escalation');
  const again = readLabFile(written);
  expect(again.ok && again.lab).toEqual(reading.lab);
});

it.each([
  ['notification_plan: { heartbeat_at: "25:00" }', 'notification_plan.heartbeat_at'],
  [
    'notification_plan: { rota: { people: [ghost], starts_on: 2031-03-03, handover_time: "08:00" } }',
    'notification_plan.rota.people',
  ],
  [
    'notification_plan: { absences: [{ person: ghost, from: 2031-03-03, to: 2031-03-04 }] }',
    'notification_plan.absences',
  ],
  ['notification_plan: { secret: x }', 'notification_plan.secret'],
])('the lab file with %s is refused at that field', (section, field) => {
  const reading = readLabFile(`site: { id: lab, name: Lab, time_zone: Europe/Berlin }\n${section}\n`);
  expect(reading.ok ? [] : reading.problems.map(({ path }) => path).join(' ')).toContain(field);
});
