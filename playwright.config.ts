import { availableParallelism } from 'node:os'
import { defineConfig } from '@playwright/test'
import { launchOptions } from './scripts/find-browser.mjs'
import { OWN_SERVER, SIGNED_IN } from './scripts/own-server.mjs'

/** What looks at the pace of frames: it has the machine to itself. */
const ALONE = /@alone/

/** Pages in a real browser, per task a person does; each worker has a server of its own. */
export default defineConfig({
  testDir: 'web/e2e',
  workers: Math.min(availableParallelism(), 4),
  timeout: 120_000,
  expect: { timeout: 20_000 }, // a busy machine is slow, not wrong
  globalSetup: './scripts/browser-test-setup.mjs',
  reporter: [['list']],
  outputDir: 'test-results',
  use: {
    browserName: 'chromium',
    baseURL: OWN_SERVER,
    storageState: SIGNED_IN.everyRole,
    viewport: { width: 1280, height: 800 },
    launchOptions: launchOptions(),
    trace: 'retain-on-failure',
  },
  projects: [
    { name: 'pages', grepInvert: ALONE },
    { name: 'alone', grep: ALONE, workers: 1, dependencies: ['pages'] },
  ],
})
