import { defineConfig } from 'vitest/config';

// Unit tests stand beside their file; what crosses folders stands in tests/. Suites that start real services
// or a browser are projects of their own, so that each can be run alone and counted alone.
const shared = { environment: 'node' as const, testTimeout: 20_000, hookTimeout: 60_000 };

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          ...shared,
          name: 'unit',
          include: [
            '{words,wax,lab,collector,alerts,pipeline,dashboard,simulators,cli,scripts}/**/*.test.ts',
            'tests/rules/**/*.test.ts',
          ],
        },
      },
      { test: { ...shared, name: 'reference', include: ['tests/reference/**/*.test.ts'] } },
      {
        test: {
          ...shared,
          name: 'faultbench',
          include: ['tests/faultbench/**/*.test.ts'],
          testTimeout: 180_000,
        },
      },
      {
        test: {
          ...shared,
          name: 'integration',
          include: ['tests/integration/**/*.test.ts'],
          testTimeout: 180_000,
          fileParallelism: false,
        },
      },
      {
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 180_000,
          fileParallelism: false,
        },
      },
    ],
  },
});
