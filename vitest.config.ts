import { configDefaults, defineConfig } from 'vitest/config'

const RUNS_WHAT_IS_BUILT = '**/*.built.test.ts'

/** Workspace packages resolve to their sources, so that tests need no build; those that start the programs build them first. */
export default defineConfig({
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source', 'node', 'import', 'default'] } },
  test: {
    testTimeout: 120_000, // a busy machine is slow, not wrong
    maxWorkers: '100%',
    hookTimeout: 120_000,
    projects: [
      {
        extends: true,
        test: {
          name: 'sources',
          isolate: false, // what a test file imports is loaded once for all: no test changes a module
          include: ['{engine,papers,register,server,cli,web}/src/**/*.test.{ts,tsx}', '{demo,checks}/*.test.ts'],
          exclude: [...configDefaults.exclude, RUNS_WHAT_IS_BUILT],
        },
      },
      {
        extends: true,
        test: {
          name: 'built',
          include: [`{register,server,cli}/src/${RUNS_WHAT_IS_BUILT}`],
          globalSetup: ['scripts/build-for-tests.mjs'],
        },
      },
    ],
  },
})
