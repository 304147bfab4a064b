// Who may import whom. Imports run downwards only:
// cli -> dashboard -> pipeline -> alerts/notices -> alerts/watch, collector -> lab -> wax.
// words stands on the ground beside wax; notices, dashboard and cli read it.

// The checker parses every file as plain TypeScript; screens hold JSX, which it must be told.
const swc = require('@swc/core');
const parseFileSync = swc.parseFileSync.bind(swc);
swc.parseFileSync = (file, options) => parseFileSync(file, { ...options, tsx: file.endsWith('.tsx') });

const FOLDERS = 'words|wax|lab|collector|alerts|pipeline|dashboard|simulators|gateway|group|cli';
const only = (folder, allowed, comment) => ({
  name: `${folder}-imports-downwards`,
  severity: 'error',
  comment,
  from: { path: `^${folder}/`, pathNot: '\\.test\\.ts$' },
  to: { path: `^(${FOLDERS}|tests)/`, pathNot: `^(${[folder, ...allowed].join('|')})(/|$)` },
});
/** Layers of one folder, lowest first; each imports itself and what is below it. */
const layers = (folder, names, comment) =>
  names
    .slice(0, -1)
    .map((name, index) => ({
      name: `${folder.replaceAll('/', '-')}-${name}-imports-downwards`,
      severity: 'error',
      comment,
      from: { path: `^${folder}/${name}/` },
      to: { path: `^${folder}/(${names.slice(index + 1).join('|')})/` },
    }));
const behind = (name, packages, doors, comment) => ({
  name,
  severity: 'error',
  comment,
  from: { pathNot: `(${doors}|\\.test\\.ts$|^tests/|^scripts/)` },
  to: { path: `node_modules/(${packages})/` },
});

module.exports = {
  forbidden: [
    only('words', [], 'A translator finds every text in one place and nothing else there.'),
    only('wax', [], 'The science stands alone, so that anyone can check it without the rest.'),
    only('lab', ['wax'], 'What the lab has is described with the science and nothing above it.'),
    only(
      'collector',
      ['lab', 'wax'],
      'The collector must run without rules and screens; cli wires them together.',
    ),
    only(
      'alerts',
      ['lab', 'wax', 'words'],
      'Rules and alarms see plain values; where readings come from is not their matter.',
    ),
    only(
      'pipeline',
      ['alerts', 'collector', 'lab', 'wax', 'words'],
      'The loop from journal to commit knows no screen and no wiring.',
    ),
    only(
      'dashboard',
      ['pipeline', 'alerts', 'collector', 'lab', 'wax', 'words'],
      'Screens never reach into wiring or simulators.',
    ),
    {
      name: 'dashboard-sees-only-what-the-pipeline-publishes',
      severity: 'error',
      comment: 'The server is given the running lab; it does not drive the loop.',
      from: { path: '^dashboard/', pathNot: '\\.test\\.ts$' },
      to: { path: '^pipeline/', pathNot: '^pipeline/published\\.ts$' },
    },
    ...layers(
      'dashboard/server',
      ['base', 'sign-in', 'live', 'context', 'views', 'routes'],
      'A request passes through the server from top to bottom.',
    ),
    ...layers(
      'dashboard',
      ['api', 'charts', 'queries', 'reports', 'server'],
      'Reports are beside the server, below its routes; charts are drawn by reports and screens alike.',
    ),
    ...layers(
      'dashboard/web',
      ['base', 'live', 'forms', 'screens', 'app'],
      'What every screen uses knows no screen.',
    ),
    only(
      'gateway',
      ['wax', 'collector/intake/mqtt-client.ts', 'collector/pause.ts'],
      'It runs on a board of its own and knows the lab by the wire alone; how a connection to a broker ends, and how a wait is cut short, is shared.',
    ),
    only(
      'group',
      [
        'alerts/watch',
        'collector/intake',
        'collector/pause.ts',
        'collector/store/carry-lines.ts',
        'collector/store/influx-server.ts',
        'dashboard/server/base',
        'lab',
        'wax',
        'words',
      ],
      'The group knows labs by what they publish. It shares the codes of conditions and priorities, how a message is held and acknowledged, how lines go to a server of series, and what every answer of a server carries.',
    ),
    only('simulators', ['wax'], 'What tests the system must not share code with it.'),
    {
      name: 'wax-does-no-io',
      severity: 'error',
      comment: 'A formula that reads a clock or a file cannot be checked against a book.',
      from: { path: '^wax/', pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'watch-does-no-io',
      severity: 'error',
      comment:
        'A replay must give the same alarms byte for byte, so rules, measures and alarm life see no clock and no disk.',
      from: { path: '^alerts/watch/', pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'watch-never-sees-notices',
      severity: 'error',
      comment: 'Notices see rules and alarms, never the reverse.',
      from: { path: '^alerts/watch/' },
      to: { path: '^alerts/notices/' },
    },
    {
      name: 'watch-never-sees-words',
      severity: 'error',
      comment: 'Rules hand on codes with values; sentences are made at the edge.',
      from: { path: '^alerts/watch/', pathNot: '\\.test\\.ts$' },
      to: { path: '^words/' },
    },
    behind(
      'one-door-to-sqlite',
      'better-sqlite3',
      '^lab/database/|^gateway/buffer\\.ts$',
      'The database driver lives behind one door; the lock of a folder needs its own connection.',
    ),
    behind(
      'one-door-to-influx',
      '@influxdata',
      '^collector/store/|^group/series',
      'The time-series driver lives behind the store and the series of a group.',
    ),
    behind(
      'one-door-to-postgres',
      'pg',
      '^group/',
      'PostgreSQL holds the state of a group and of nothing else.',
    ),
    behind(
      'one-door-to-mqtt',
      'mqtt|aedes',
      '^collector/intake/|^simulators/publish|^gateway/uplink|^alerts/notices/channels/|^pipeline/group-link/group-connection|^group/partition-session|^cli/',
      'Only intake, gateways, the bench lamp and both ends of the link to the group speak to a broker.',
    ),
    behind(
      'one-door-to-web-server',
      'fastify|@fastify',
      '^dashboard/server/|^group/server',
      'The web server lives behind one door.',
    ),
    {
      name: 'no-circles',
      severity: 'error',
      comment: 'A circle can be neither tested nor read in part.',
      from: {},
      to: { circular: true },
    },
    {
      name: 'no-orphans',
      severity: 'error',
      comment: 'A file that nothing imports and that imports nothing is forgotten.',
      from: {
        orphan: true,
        // The peers of a bench are started as processes of their own.
        pathNot: '(\\.d\\.ts|\\.test\\.ts|\\.cjs|vite\\.config\\.ts)$|^tests/bench/peers/',
      },
      to: {},
    },
    {
      name: 'product-never-imports-tests',
      severity: 'error',
      comment: 'Test code is not shipped.',
      from: { path: `^(${FOLDERS})/`, pathNot: '\\.test\\.ts$' },
      to: { path: '(^tests/|\\.test\\.ts$)' },
    },
  ],
  options: {
    parser: 'swc',
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^dist/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js', '.json'] },
  },
};
