import { mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { chromium } from '@playwright/test'
import { ensureBrowser, launchOptions } from './find-browser.mjs'
import { letPeopleIn } from './let-people-in.mjs'
import { runServer } from './run-server.mjs'

/** Remakes the pictures of the README from the running program. Build first. */

const picture = (name) => fileURLToPath(new URL(`../docs/${name}.png`, import.meta.url))

const { path, remedy } = ensureBrowser()
if (path === undefined) {
  process.stderr.write(`${remedy}\n`)
  process.exit(1)
}
mkdirSync(fileURLToPath(new URL('../docs', import.meta.url)), { recursive: true })
const server = await runServer()
const browser = await chromium.launch(launchOptions())
try {
  const { everyRole } = await letPeopleIn(server.address, server.setUpLink)
  const page = await browser.newPage({
    viewport: { width: 1440, height: 900 },
    baseURL: server.address,
    storageState: everyRole.storageState(),
  })
  await page.goto('/orders/26-041')
  await page.getByRole('tab', { name: /Close/ }).click()
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: picture('order') })

  await page.getByText('Try other figures').click()
  await page.getByText(/more figures?/).click()
  await page
    .getByRole('group', { name: /Recess depth for the balls/ })
    .getByLabel('Nominal')
    .fill('2.73')
  await page.getByText('Tried figures, not the plan.').waitFor()
  await page.getByLabel('only Close').check()
  await page.evaluate(() => scrollTo({ top: 60 }))
  await page.screenshot({ path: picture('what-if') })

  await page.goto('/orders/26-041/plating?design=HB50')
  await page.getByText('The line keeps time:').waitFor({ timeout: 120_000 })
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: picture('line') })

  await page.goto('/designs/HB50/solid')
  await page.getByRole('img', { name: /^Harbour 50 from/ }).waitFor({ timeout: 120_000 })
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: picture('solid') })

  await page.goto('/evidence/calculations/finish.deposit')
  await page.getByText(/nickel, 6 µm at 2 A/).click()
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: picture('calculation') })
} finally {
  await browser.close()
  await server.stop()
}
