import { defineConfig } from 'vitest/config'

/** Workspace packages resolve to their sources, so that tests need no build. */
export default defineConfig({
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source', 'node', 'import', 'default'] } },
  test: {
    include: ['{engine,papers,register,server,cli,web,demo,checks}/src/**/*.test.{ts,tsx}', '{demo,checks}/*.test.ts'],
    testTimeout: 30_000,
  },
})
