import { availableParallelism } from 'node:os';
import { relative } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** Where each suite's files are; `npm test -- NAME` runs it alone. */
const SUITES: Readonly<Record<string, readonly string[]>> = {
  browser: ['tests/browser/**/*.test.ts'],
  integration: ['tests/integration/**/*.test.ts'],
  faultbench: ['tests/faultbench/**/*.test.ts'],
  unit: [
    '{words,wax,lab,collector,alerts,pipeline,dashboard,simulators,gateway,group,cli,scripts}/**/*.test.ts',
    'tests/rules/**/*.test.ts',
  ],
  reference: ['tests/reference/**/*.test.ts'],
};
const NODE_SUITES = ['integration', 'faultbench', 'unit', 'reference'];
const wanted = process.env.SUITES?.split(',') ?? Object.keys(SUITES);
const filesOf = (names: readonly string[]): string[] =>
  names.filter((name) => wanted.includes(name)).flatMap((name) => SUITES[name] ?? []);

/** What takes minutes, longest first: begun last, one of them would be waited for alone. */
const LONGEST = [
  'tests/faultbench/each-fault',
  'tests/browser/three-days',
  'tests/rules/figure-effects',
  'tests/rules/recipes',
  'tests/browser/wall',
  'tests/integration/kill',
  'tests/browser/every-screen',
  'tests/browser/pattern-verdict',
  'tests/integration/notices',
  'tests/browser/states',
  'simulators/cases/make-case',
  'tests/rules/quiet-rules',
];
/** Then what waits most for browsers and processes, and at the end the small files that fill the gaps. */
const THEN = ['tests/browser/', 'tests/integration/', ''];

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification): number => {
      const path = relative(import.meta.dirname, moduleId);
      const long = LONGEST.indexOf(path.replace('.test.ts', ''));
      return long === -1 ? LONGEST.length + THEN.findIndex((start) => path.startsWith(start)) : long;
    };
    return (await super.sort(files)).sort((first, second) => place(first) - place(second));
  }
}

// Unit tests are beside their file; what crosses folders is in tests/. What a file starts has ports and folders of
// its own, so files of any suite run beside each other.
// The limits only end what hangs: on a busy machine everything takes several times as long.
const shared = {
  environment: 'node' as const,
  // Modules keep no state of their own, so files share a process: loading the product anew for each took minutes.
  isolate: false,
  testTimeout: 180_000,
  hookTimeout: 180_000,
  expect: { poll: { timeout: 30_000 } },
};

/** `npm test` names the screens that it has just built. */
const { BUILT_SCREENS: webRoot } = process.env;
// The workers of each project load the product anew. Only files of the browser suite that are run by hand need one of
// their own, which builds the screens first.
const files =
  webRoot === undefined
    ? {
        projects: [
          { test: { ...shared, name: 'node', include: filesOf(NODE_SUITES) } },
          {
            test: {
              ...shared,
              name: 'browser',
              include: filesOf(['browser']),
              globalSetup: ['tests/browser/build-screens.ts'],
            },
          },
        ],
      }
    : { ...shared, include: filesOf(['browser', ...NODE_SUITES]), provide: { webRoot } };

export default defineConfig({
  test: {
    // Nearly half of the time of tests is waiting for a broker, a page or a process: three files more than there are
    // cores fill it.
    maxWorkers: availableParallelism() + 3,
    sequence: { sequencer: LongestFirst },
    ...files,
  },
});
