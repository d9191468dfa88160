import { defineConfig } from '@playwright/test'
export default defineConfig({
  testDir: 'web/e2e', workers: 1, timeout: 40_000, reporter: [['line']], outputDir: '/tmp/webdev/results',
  use: { baseURL: 'http://localhost:4199', browserName: 'chromium', viewport: { width: 1280, height: 800 }, launchOptions: { executablePath: '/usr/bin/chromium', args: ['--no-sandbox','--disable-background-networking','--disable-component-update'] } },
})
