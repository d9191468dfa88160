import { expect, test } from '@playwright/test'
import { axeFindings } from './axe.ts'

const PAGES = [
  '/orders',
  '/orders/26-041?station=close',
  '/orders/26-041?station=cut-bar',
  '/designs',
  '/designs/HB50',
  '/evidence',
  '/evidence/sources',
  '/evidence/calculations/finish.deposit',
  '/nowhere',
]

for (const path of PAGES)
  test(`axe finds nothing on ${path}`, async ({ page }) => {
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await page.goto(path)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    expect(await axeFindings(page)).toEqual([])
  })

test('an open working and the figures to try are clean too', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.goto('/orders/26-041?station=close')
  await page.getByRole('button', { name: /Release clearance at −40.*Show working/ }).click()
  await page.getByText('Try other figures').click()
  await expect(page.getByLabel('Nominal').first()).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
})

test('the dialog to save a revision and the list of what is wrong with an order are clean too', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.goto('/designs/HB50')
  await page.getByLabel('Disc thickness').fill('1,9')
  await page.getByRole('button', { name: 'Save as new revision' }).click()
  await expect(page.getByRole('dialog')).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
  await page.goto('/orders')
  await page.getByRole('button', { name: 'or write it here' }).click()
  await page.getByLabel('The order').fill('{"id": "X 1"}')
  await page.getByRole('button', { name: 'Hand in and plan' }).click()
  await expect(page.getByRole('alert', { name: /to be mended/ })).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
})

test('every page has its main landmark, one first heading, and headings in order', async ({ page }) => {
  for (const path of PAGES) {
    await page.goto(path)
    await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1)
    await expect(page.getByRole('main')).toHaveCount(1)
    const levels = await page
      .locator('h1:visible, h2:visible, h3:visible, h4:visible')
      .evaluateAll((all) => all.map((heading) => Number(heading.tagName.slice(1))))
    for (const [i, level] of levels.entries())
      expect(level - (levels[i - 1] ?? 0), `${path}: heading ${i + 1}`).toBeLessThanOrEqual(1)
  }
})
