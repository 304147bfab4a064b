import { availableParallelism } from 'node:os';
import { basename } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/** What takes minutes, longest first: begun last, one of them would be waited for alone. */
const LONGEST = [
  'browser/three-days',
  'unit/figure-effects',
  'unit/recipes',
  'browser/wall',
  'integration/kill',
  'faultbench/each-fault',
  'unit/make-case',
  'browser/every-screen',
  'browser/pattern-verdict',
  'integration/notices',
  'browser/states',
];
const SUITES = ['browser', 'integration', 'unit', 'reference'];

/** Begins with what takes longest, and ends with the small files that fill the gaps. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId, project }: TestSpecification): number => {
      const long = LONGEST.indexOf(`${project.name}/${basename(moduleId, '.test.ts')}`);
      return long === -1 ? LONGEST.length + SUITES.indexOf(project.name) : long;
    };
    return (await super.sort(files)).sort((first, second) => place(first) - place(second));
  }
}

// Unit tests stand beside their file; what crosses folders stands in tests/. Suites that start real services
// or a browser are projects of their own, so that each can be run alone and counted alone. What a file starts has ports
// and folders of its own, so files of any suite run beside each other.
// The limits only end what hangs: on a busy machine everything takes several times as long.
const shared = {
  environment: 'node' as const,
  // Modules keep no state of their own, so files share a process: loading the product anew for each took minutes.
  isolate: false,
  testTimeout: 180_000,
  hookTimeout: 180_000,
  expect: { poll: { timeout: 30_000 } },
};

export default defineConfig({
  test: {
    // Nearly half of the time of tests is waiting for a broker, a page or a process: three files more than there are
    // cores fill it.
    maxWorkers: availableParallelism() + 3,
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          ...shared,
          name: 'unit',
          include: [
            '{words,wax,lab,collector,alerts,pipeline,dashboard,simulators,gateway,group,cli,scripts}/**/*.test.ts',
            'tests/rules/**/*.test.ts',
          ],
        },
      },
      { test: { ...shared, name: 'reference', include: ['tests/reference/**/*.test.ts'] } },
      { test: { ...shared, name: 'faultbench', include: ['tests/faultbench/**/*.test.ts'] } },
      { test: { ...shared, name: 'integration', include: ['tests/integration/**/*.test.ts'] } },
      {
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          globalSetup: ['tests/browser/build-screens.ts'],
        },
      },
    ],
  },
});
