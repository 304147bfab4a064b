// The page docs/map.md: a sentence a folder, with arrows from the real imports.

/** The sentence of each folder; a folder without one fails the run, so that none is forgotten. */
const SENTENCES = {
  words: 'Every text in every language, one folder each, and how a message and its values read.',
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
  'alerts/watch':
    'Pure: rules over measured values, the life of an alarm and the figures of alarm quality. Entries in, alarm changes out.',
  'alerts/notices': 'Words of an alarm, who is on duty, the outbox and the channels; the archive of alarms.',
  pipeline: 'The one loop: journal, qualify, watch, commit, publish.',
  'dashboard/api': 'What crosses the wire, as schemas and types at once.',
  'dashboard/charts':
    'What a chart shows, apart from how it is drawn, and where it lies in a frame. Pure; for screens and paper alike.',
  'dashboard/queries': 'What server and reports read from the running lab.',
  'dashboard/reports': 'The night sheet and the month sheet.',
  'dashboard/server': 'The web server: API, live stream, sign-in, audit trail.',
  'dashboard/web': 'The screens.',
  collector: 'From broker to journal to store.',
  dashboard: 'Server and screens.',
  simulators:
    'Physical models of pots, annealers, baths and rooms, with faults; they share only the wire format with what they test.',
  gateway:
    'The small process beside the heaters: reads probes, keeps what it measured on disk and publishes it.',
  group:
    'The process of a group of labs: takes what they report, into PostgreSQL, in as many copies as wished.',
  cli: 'Reads settings, builds clocks, opens connections and wires the rest.',
};

const folderOf = (file) => {
  const parts = file.split('/');
  const two = parts.slice(0, 2).join('/');
  return parts.length > 2 && two in SENTENCES ? two : parts[0];
};

/**
 * @param {readonly { from: string, to: string }[]} imports as `productImports` of folder-circles.mjs answers them
 * @returns {string} the text of docs/map.md; throws where a folder has no sentence
 */
export function mapPage(imports) {
  const arrows = new Map();
  for (const { from, to } of imports) {
    const [folder, imported] = [folderOf(from), folderOf(to)];
    if (!arrows.has(folder)) arrows.set(folder, new Set());
    if (imported !== folder) arrows.get(folder).add(imported);
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
  return `# Map

One sentence a folder; the last column is what it really imports. This page is generated
(\`node scripts/make-map.mjs\`) and \`npm run check:imports\` fails when it is stale. Which arrows are allowed, and why, is in
\`.dependency-cruiser.cjs\`.

| folder | what it holds | imports |
|---|---|---|
${rows.join('\n')}
`;
}
