import { expect, test } from '@playwright/test'
import { openHarbour } from './harbour.ts'

test('on paper there is the station sheet alone, with its title block, black on white', async ({ page }) => {
  await openHarbour(page, 'close')
  await page.emulateMedia({ media: 'print', colorScheme: 'dark' })
  const sheet = page.getByRole('article', { name: 'Close' })
  await expect(sheet).toBeVisible()
  await expect(sheet.getByText(/sheet/).last()).toBeVisible()
  await expect(page.getByRole('navigation', { name: 'Places' })).toBeHidden()
  await expect(page.getByRole('heading', { name: 'Margins, tightest first' })).toBeHidden()
  await expect(page.getByText('Print sheet')).toBeHidden()
  const colours = await sheet.evaluate((element) => {
    const { color, backgroundColor } = getComputedStyle(element)
    return { color, backgroundColor }
  })
  expect(colours).toEqual({ color: 'rgb(0, 0, 0)', backgroundColor: 'rgb(255, 255, 255)' })
})

for (const [name, viewport] of [
  ['lying', { width: 1080, height: 810 }],
  ['standing', { width: 810, height: 1080 }],
] as const)
  test(`on a 10-inch tablet, ${name}, nothing runs off the page and targets are large`, async ({
    browser,
    baseURL,
  }) => {
    const context = await browser.newContext({
      viewport,
      hasTouch: true,
      isMobile: true,
      ...(baseURL === undefined ? {} : { baseURL }),
    })
    const page = await context.newPage()
    for (const path of [
      '/orders',
      '/orders/26-041?station=harden',
      '/designs/HB50',
      '/evidence/calculations/finish.deposit',
    ]) {
      await page.goto(path)
      await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      )
      expect(over, path).toBeLessThanOrEqual(0)
    }
    await openHarbour(page, 'harden')
    for (const target of [
      page.getByRole('tab', { name: /Close/ }),
      page.getByRole('button', { name: 'Print sheet' }),
      page.getByRole('link', { name: 'Orders' }),
    ]) {
      const box = await target.boundingBox()
      expect(box?.height).toBeGreaterThanOrEqual(48)
    }
    await page.getByRole('tab', { name: /Close/ }).tap()
    await expect(page.getByRole('article', { name: 'Close' })).toBeVisible()
    await context.close()
  })

test('at 200 % zoom the order still fits the width', async ({ page }) => {
  await page.setViewportSize({ width: 640, height: 400 })
  await openHarbour(page, 'close')
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(over).toBeLessThanOrEqual(0)
})
