import { configDefaults, defineConfig } from 'vitest/config'

const RUNS_WHAT_IS_BUILT = '**/*.built.test.ts'
const NEEDS_A_DATABASE = '**/*.database.test.ts'
const STARTS_DATABASES = 'register/src/postgres/test-servers.testing.ts'

/** Workspace packages resolve to their sources, so that tests need no build; those that start the programs build them first. */
export default defineConfig({
  resolve: { conditions: ['source'] },
  // Without 'import': pg asks for its pool by require, and would be handed a module instead of a class.
  ssr: { resolve: { conditions: ['source', 'node', 'default'] } },
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
          include: ['{engine,papers,register,cli,web}/src/**/*.test.{ts,tsx}', '{demo,checks}/*.test.ts'],
          exclude: [...configDefaults.exclude, RUNS_WHAT_IS_BUILT, NEEDS_A_DATABASE],
        },
      },
      {
        extends: true,
        test: {
          name: 'database',
          isolate: false,
          include: [`register/src/${NEEDS_A_DATABASE}`, 'server/src/**/*.test.ts'],
          exclude: [...configDefaults.exclude, RUNS_WHAT_IS_BUILT],
          globalSetup: [STARTS_DATABASES],
        },
      },
      {
        extends: true,
        test: {
          name: 'built',
          include: [`{register,server,cli}/src/${RUNS_WHAT_IS_BUILT}`],
          globalSetup: ['scripts/build-for-tests.mjs', STARTS_DATABASES],
        },
      },
    ],
  },
})
