// `node scripts/make-map.mjs [--check]`: writes docs/map.md, a sentence a folder, with arrows from the real imports.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './ready.mjs';

/** The sentence of each folder; a folder without one fails the run, so that none is forgotten. */
const SENTENCES = {
  wax: 'The science: pure functions and tables of data. Imports nothing of the project and does no I/O.',
  lab: 'What the lab has: stations, probes, charges, patterns, people; the lab file and the database.',
  'collector/decode':
    'Bytes to readings, by open formats only; what cannot be decoded is a rejection with a reason.',
  'collector/intake':
    'The MQTT client and the embedded broker, in a thread of their own; acknowledges what is journalled.',
  'collector/journal': 'The append-only, checksummed file that everything behind it works from.',
  'collector/qualify':
    'Calibration, plausibility and ownership of probes: sets the quality, deletes nothing.',
  'collector/quarantine': 'What could not be read, counted and kept with an example.',
  'collector/store': 'Where readings are kept: SQLite or InfluxDB behind one specification.',
  'alerts/rules': 'Pure reducers from readings to findings, one file a rule.',
  'alerts/engine':
    'Steps every rule over readings, time, gateways and acts, and keeps what it must remember as plain JSON.',
  'alerts/measures': 'What rules look at: activity of a heater, warm-ups, swings and the past of a station.',
  'alerts/life': 'The life of an alarm as the standard has it: one pure step.',
  'alerts/messages':
    'What an alarm says, in every language: what happened, what it does to the wax, what to do.',
  'alerts/outbox': 'Who is told, how and when: written before it is sent.',
  'alerts/channels': 'Push, mail, webhook and the lamp at the bench.',
  'alerts/people': 'Rota, absence and escalation.',
  'alerts/quality': "The standard's own figures for how well the alarms serve.",
  alerts: 'The watch: entries in, findings and alarm changes out; their archive.',
  'dashboard/api': 'What crosses the wire, as schemas and types at once.',
  'dashboard/server': 'The web server: API, live stream, sign-in, audit trail.',
  'dashboard/web': 'The screens.',
  'dashboard/night': 'The night sheet and the month sheet.',
  collector: 'From broker to journal to store.',
  dashboard: 'Server and screens.',
  simulators:
    'Physical models of pots, annealers, baths and rooms, with faults; they share only the wire format with what they test.',
  cli: 'Reads settings, builds clocks, opens connections and wires the rest.',
};

const folderOf = (file) => {
  const parts = file.split('/');
  const two = parts.slice(0, 2).join('/');
  return parts.length > 2 && two in SENTENCES ? two : parts[0];
};

const folders = ['wax', 'lab', 'collector', 'alerts', 'dashboard', 'simulators', 'cli'];
const json = execFileSync(
  join(root, 'node_modules/.bin/depcruise'),
  ['--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...folders],
  { cwd: root, maxBuffer: 1 << 28, encoding: 'utf8' },
);
const arrows = new Map();
for (const { source, dependencies } of JSON.parse(json).modules) {
  if (source.includes('.test.') || !folders.includes(source.split('/')[0])) continue;
  const from = folderOf(source);
  if (!arrows.has(from)) arrows.set(from, new Set());
  for (const { resolved } of dependencies) {
    const to = folderOf(resolved);
    if (folders.includes(resolved.split('/')[0]) && to !== from) arrows.get(from).add(to);
  }
}
const silent = [...arrows.keys()].filter((folder) => !(folder in SENTENCES));
if (silent.length > 0) throw new Error(`make-map: no sentence for ${silent.join(', ')}`);

const rows = [...arrows.keys()].sort().map(
  (folder) =>
    `| \`${folder}/\` | ${SENTENCES[folder]} | ${
      [...arrows.get(folder)]
        .sort()
        .map((to) => `\`${to}/\``)
        .join(' ') || 'nothing'
    } |`,
);
const page = `# Map

One sentence a folder; the last column is what it really imports. This page is generated
(\`node scripts/make-map.mjs\`) and a test fails when it is stale. Which arrows are allowed, and why, stands in
\`.dependency-cruiser.cjs\`.

| folder | what it holds | imports |
|---|---|---|
${rows.join('\n')}
`;

const file = join(root, 'docs', 'map.md');
if (process.argv.includes('--check')) {
  if (existsSync(file) && readFileSync(file, 'utf8') === page) process.exit(0);
  console.error('docs/map.md is stale: run `node scripts/make-map.mjs`.');
  process.exit(1);
}
writeFileSync(file, page);
