import { defineConfig } from '@playwright/test'
import { launchOptions } from './scripts/find-browser.mjs'
import { SIGNED_IN } from './scripts/signed-in.mjs'

/** Pages in a real browser, per task a person does, against a server of their own. */
export default defineConfig({
  testDir: 'web/e2e',
  workers: 1,
  timeout: 120_000,
  expect: { timeout: 20_000 }, // a busy machine is slow, not wrong
  globalSetup: './scripts/browser-test-setup.mjs',
  reporter: [['list']],
  outputDir: 'test-results',
  use: {
    browserName: 'chromium',
    storageState: SIGNED_IN.everyRole,
    viewport: { width: 1280, height: 800 },
    launchOptions: launchOptions(),
    trace: 'retain-on-failure',
  },
})
