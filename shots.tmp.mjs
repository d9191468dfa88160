import { chromium } from '@playwright/test'
import { launchOptions } from './scripts/find-browser.mjs'
import { runServer } from './scripts/run-server.mjs'
const { address, stop } = await runServer()
const browser = await chromium.launch(launchOptions())
const LOG = ['date;nickel g/L;boricAcid g/L;pH', '2026-01-05;72,5;44;4,1', '2026-01-09;70;43;4.2','2026-01-12;63;41;4.3'].join('\n')
try {
  const shot = async (name, options, then = async () => {}) => {
    const context = await browser.newContext(options)
    const page = await context.newPage()
    page.on('pageerror', (e) => console.log('pageerror', name, e.message))
    await page.goto(`${address}/orders/26-041/plating?design=HB50`)
    await page.getByRole('img', { name: /Carriers over one cycle/ }).waitFor({ timeout: 60000 })
    await page.getByRole('img', { name: /Thickness of the nickel/ }).waitFor({ timeout: 60000 })
    await page.locator('.line-remedies table, .line-remedies > p:not([role])').first().waitFor({ timeout: 60000 })
    await then(page)
    await page.screenshot({ path: `/tmp/hw/shots/${name}.png`, fullPage: true })
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    await page.locator('section[aria-labelledby=line]').screenshot({ path: `/tmp/hw/shots/${name}-line.png` })
    await page.locator('section[aria-labelledby=thickness]').screenshot({ path: `/tmp/hw/shots/${name}-thick.png` })
    console.log(name, await page.locator('.sentence').first().textContent(), 'over', over)
    await page.goto(`${address}/bath-log`)
    const chooser = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: 'Open a saved log' }).click()
    await (await chooser).setFiles({ name: 'log.csv', mimeType: 'text/csv', buffer: Buffer.from(LOG) })
    await page.getByRole('img', { name: 'Nickel over time' }).waitFor()
    await page.screenshot({ path: `/tmp/hw/shots/${name}-bath.png`, fullPage: true })
    await context.close()
  }
  const which = process.argv.slice(2)
  if (which.includes('light')) await shot('light', { viewport: { width: 1440, height: 900 } })
  if (which.includes('dark')) await shot('dark', { viewport: { width: 1440, height: 900 }, colorScheme: 'dark' })
  if (which.includes('tablet')) await shot('tablet', { viewport: { width: 1024, height: 768 }, hasTouch: true, isMobile: true })
  if (which.includes('two')) await shot('two', { viewport: { width: 1440, height: 900 } }, async (page) => {
    const before = await page.locator('.facts-column .figure').first().textContent()
    await page.getByLabel('Carriers', { exact: true }).fill('2')
    await page.waitForTimeout(3000); await page.getByRole('button', { name: 'Next move' }).click(); await page.getByRole('button', { name: 'Next move' }).click(); await page.getByRole('button', { name: 'Next move' }).click()
    console.log('two', before, await page.locator('.facts-column .figure').first().textContent(), await page.locator('.line-remedies').textContent())
  })
} finally { await browser.close(); await stop() }
