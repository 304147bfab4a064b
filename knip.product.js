// The check of product use: what only a test, a bench or a script uses is unused. knip.json is the other check, in which
// tests and scripts are users too, so that these hold nothing dead either.

/** Science that no screen and no rule uses yet and that stays, by the name of its feature. */
const FEATURES_TO_COME = {
  'guard band of a limit': ['wax/probes/guard-band.ts'],
  'flow bands of a wax': ['wax/heat/flow.ts'],
  'wax left in a pot by its thermal mass': ['wax/heat/thermal-mass.ts'],
};

/** Files in use of which some exports wait for their feature, or are how the science is checked from outside. */
const EXPORTS_TO_COME = {
  'time until a piece is soft, and heat under a lamp': ['wax/heat/soak.ts', 'wax/heat/soak-body.ts'],
  'period and duty of a thermostat': ['wax/heat/thermostat-cycle.ts'],
  'end temperature of a heater': ['wax/heat/first-order-fit.ts'],
  'whole series, checked against published examples': [
    'wax/heat/heat-dose.ts',
    'wax/heat/mean-kinetic-temperature.ts',
    'wax/numbers/rainflow.ts',
  ],
  'checks and tables of sensors': [
    'wax/probes/platinum.ts',
    'wax/probes/thermistor.ts',
    'wax/probes/digital-codes.ts',
  ],
  'sweeps of a gateway that are missing': ['collector/qualify/sequence.ts'],
  'what a bare sensor sent, from its stored temperature': ['lab/sensor.ts'],
  'one reading of the reduced time, as a value': ['wax/relaxation/reduced-time.ts'],
  'one checked constructor for each unit': ['wax/units.ts'],
};

/** What makes labelled cases and the page of the rules: started by scripts and the fault bench, never by the lab process. */
const MAKERS = {
  'labelled cases by seed': ['simulators/cases/make-case.ts', 'simulators/cases/write-case.ts'],
  'page of the rules': ['alerts/notices/texts/rules-page.ts'],
};

const filesOf = (features) => Object.values(features).flat();

/** @type {import('knip').KnipConfig} */
export default {
  entry: [
    'cli/main.ts!',
    'gateway/main.ts!',
    'group/main.ts!',
    'collector/intake/intake-worker.ts!',
    'dashboard/reports/paper/paper-worker.ts!',
    'dashboard/web/app/main.tsx!',
    'dashboard/web/app/service-worker.ts!',
    'dashboard/web/vite.config.ts!',
    'scripts/{run,build}.mjs!',
    ...[...filesOf(FEATURES_TO_COME), ...filesOf(MAKERS)].map((file) => `${file}!`),
  ],
  project: [
    '{wax,words,lab,collector,alerts,pipeline,dashboard,simulators,gateway,group,cli}/**/*.{ts,tsx}!',
    '!**/*.test.{ts,tsx}!',
  ],
  ignoreExportsUsedInFile: true,
  ignoreIssues: Object.fromEntries(filesOf(EXPORTS_TO_COME).map((file) => [file, ['exports']])),
  // A font that is read as a file, and what generated code imports.
  ignoreDependencies: ['dejavu-fonts-ttf', '@messageformat/runtime'],
};
