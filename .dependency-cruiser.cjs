// Who may import whom. Imports run downwards only: cli -> dashboard -> alerts, collector -> lab -> wax.

// The checker parses every file as plain TypeScript; screens hold JSX, which it must be told.
const swc = require('@swc/core');
const parseFileSync = swc.parseFileSync.bind(swc);
swc.parseFileSync = (file, options) => parseFileSync(file, { ...options, tsx: file.endsWith('.tsx') });

const FOLDERS = 'wax|lab|collector|alerts|dashboard|simulators|cli';
const only = (folder, allowed, comment) => ({
  name: `${folder}-imports-downwards`,
  severity: 'error',
  comment,
  from: { path: `^${folder}/`, pathNot: '\\.test\\.ts$' },
  to: { path: `^(${FOLDERS}|tests)/`, pathNot: `^(${[folder, ...allowed].join('|')})/` },
});
const behind = (name, packages, doors, comment) => ({
  name,
  severity: 'error',
  comment,
  from: { pathNot: `(${doors}|\\.test\\.ts$|^tests/|^scripts/)` },
  to: { path: `node_modules/(${packages})/` },
});

module.exports = {
  forbidden: [
    only('wax', [], 'The science stands alone, so that anyone can check it without the rest.'),
    only('lab', ['wax'], 'What the lab has is described with the science and nothing above it.'),
    only(
      'collector',
      ['lab', 'wax'],
      'The collector must run without rules and screens; cli wires them together.',
    ),
    only(
      'alerts',
      ['lab', 'wax'],
      'Rules and alarms see plain values; where readings come from is not their matter.',
    ),
    only(
      'dashboard',
      ['alerts', 'collector', 'lab', 'wax'],
      'Screens never reach into wiring or simulators.',
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
      name: 'rules-do-no-io',
      severity: 'error',
      comment:
        'A replay must give the same alarms byte for byte, so rules and alarm life see no clock and no disk.',
      from: { path: '^alerts/(rules|life)/', pathNot: '\\.test\\.ts$' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'rules-never-see-senders',
      severity: 'error',
      comment: 'Senders may see rules and alarms, never the reverse.',
      from: { path: '^alerts/(rules|life)/' },
      to: { path: '^alerts/(outbox|channels)/' },
    },
    behind(
      'one-door-to-sqlite',
      'better-sqlite3',
      '^lab/database\\.ts$',
      'The database driver lives behind one door.',
    ),
    behind(
      'one-door-to-influx',
      '@influxdata',
      '^collector/store/',
      'The time-series driver lives behind the store.',
    ),
    behind(
      'one-door-to-mqtt',
      'mqtt|aedes',
      '^collector/intake/|^simulators/publish|^alerts/channels/|^cli/',
      'Only intake, the simulated gateway and the bench lamp speak to a broker.',
    ),
    behind(
      'one-door-to-web-server',
      'fastify|@fastify',
      '^dashboard/server/',
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
    exclude: { path: '^(dist|node_modules)/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js', '.json'] },
  },
};
