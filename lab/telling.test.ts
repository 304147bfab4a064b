import { expect, it } from 'vitest';
import { readLabFile } from './read-lab-file.ts';
import { TELLING_DEFAULTS } from './telling.ts';
import { writeLabFile } from './write-lab-file.ts';

const FILE = `
site: { id: lab, name: Lab, timeZone: Europe/Berlin }
people:
  - { id: tom, name: Tom, role: technician, email: tom@lab.example, mail: always }
telling:
  rota: { people: [tom], startsOn: 2031-03-03, handoverTime: "08:00" }
  heartbeatAt: "07:30"
  webhooks: [{ id: chat, name: Chat, url: "https://chat.lab.example/in" }]
`;

it('stands in the lab file, with what is not named as it ships, and reads back as the same plan', () => {
  const reading = readLabFile(FILE);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  expect(reading.lab.telling).toEqual({
    ...TELLING_DEFAULTS,
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
  ['telling: { heartbeatAt: "25:00" }', 'telling.heartbeatAt'],
  [
    'telling: { rota: { people: [ghost], startsOn: 2031-03-03, handoverTime: "08:00" } }',
    'telling.rota.people',
  ],
  ['telling: { absences: [{ person: ghost, from: 2031-03-03, to: 2031-03-04 }] }', 'telling.absences'],
  ['telling: { secret: x }', 'telling.secret'],
])('refuses %s by its field', (section, field) => {
  const reading = readLabFile(`site: { id: lab, name: Lab, timeZone: Europe/Berlin }\n${section}\n`);
  expect(reading.ok ? [] : reading.problems.map(({ path }) => path).join(' ')).toContain(field);
});
