import { expect, test } from '@playwright/test'
import { marginRows, openHarbour } from './harbour.ts'

test('the harbour order is in the list with its verdict and opens with its plan', async ({ page }) => {
  await page.goto('/')
  const row = page.getByRole('row', { name: /26-041/ })
  await expect(row).toContainText('480')
  await expect(row).toContainText('18 January 2027')
  await expect(row).toContainText(/holds|falls short|not known yet/)
  await row.getByRole('link', { name: /Skerrivoe Harbour/ }).click()

  await expect(page.getByRole('heading', { level: 1 })).toContainText('480 padlocks')
  const stations = page.getByRole('tablist', { name: /Route of/ }).getByRole('tab')
  await expect(stations.first()).toContainText('Cut bar')
  expect(await stations.count()).toBeGreaterThanOrEqual(13)
  expect(await marginRows(page).count()).toBeGreaterThan(10)
})

test('margins stand tightest first, and what is not known stands last', async ({ page }) => {
  await openHarbour(page)
  const verdicts = await page
    .getByRole('region', { name: 'Margins, tightest first' })
    .getByRole('listitem')
    .evaluateAll((rows) => rows.map((row) => row.getAttribute('data-verdict')))
  const ranks = verdicts.map((verdict) => ['falls-short', 'holds', 'not-known'].indexOf(verdict ?? ''))
  expect(ranks).toEqual([...ranks].sort((a, b) => a - b))
})

test('pressing a margin opens its station and its working, and the address opens the same for a colleague', async ({
  page,
  context,
}) => {
  await openHarbour(page, 'cut-bar')
  await marginRows(page).filter({ hasText: 'Release clearance at −40' }).click()
  await expect(page.getByRole('tab', { name: /Close/ })).toHaveAttribute('aria-selected', 'true')
  const working = page.getByRole('region', { name: /Release clearance at −40/ })
  await expect(working.getByRole('math').first()).toBeVisible()
  await expect(working.getByText(/Asked by/)).toBeVisible()
  await expect(working.locator('.status').first()).toBeVisible()

  const colleague = await context.newPage()
  await colleague.goto(page.url())
  await expect(colleague.getByRole('region', { name: /Release clearance at −40/ })).toBeVisible()
})

test('a setting shows how it was computed', async ({ page }) => {
  await openHarbour(page, 'nickel')
  const sheet = page.getByRole('article', { name: 'Nickel' })
  await sheet.getByText('working', { exact: false }).first().click()
  await expect(sheet.getByRole('math').first()).toBeVisible()
})

test('the stations are walked with the keyboard alone', async ({ page }) => {
  await openHarbour(page, 'cut-bar')
  await page.getByRole('tab', { name: /Cut bar/ }).focus()
  await page.keyboard.press('ArrowRight')
  const drill = page.getByRole('tab', { name: /Drill body/ })
  await expect(drill).toBeFocused()
  // Moving along the line opens nothing yet.
  await expect(page.getByRole('article', { name: 'Cut bar' })).toBeVisible()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('article', { name: 'Drill body' })).toBeVisible()
  await page.keyboard.press('End')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('article', { name: 'Release' })).toBeVisible()
  await expect(page).toHaveURL(/station=release/)
})

test('only the margins of one station are listed when asked', async ({ page }) => {
  await openHarbour(page, 'close')
  const all = await marginRows(page).count()
  await page.getByRole('checkbox', { name: /only Close/ }).check()
  await expect(page).toHaveURL(/only=true/)
  expect(await marginRows(page).count()).toBeLessThan(all)
})

test('the bars of the whole order are drawn where they are cut', async ({ page }) => {
  await openHarbour(page, 'cut-bar')
  await expect(page.getByRole('heading', { name: /Bars, all lines/ })).toBeVisible()
  await expect(page.getByRole('img', { name: /Bar layout/ }).first()).toBeVisible()
})

test('an order of two designs shows one route at a time', async ({ page }) => {
  await page.goto('/orders/26-044')
  const designs = page.getByRole('radiogroup', { name: 'Design' })
  await expect(designs).toBeVisible()
  for (const [number, name] of [
    ['RY40', 'Rail ?yard'],
    ['HB50', 'Harbour'],
    ['RY40', 'Rail ?yard'],
  ] as const) {
    await designs.getByText(number).click()
    await expect(page.getByRole('tablist', { name: new RegExp(name, 'i') })).toBeVisible()
  }
  await expect(page).toHaveURL(/design=RY40/)
})

test('a paper with codes asks for a reason first', async ({ page }) => {
  await openHarbour(page)
  const papers = page.getByRole('region', { name: 'Papers' })
  await papers.getByRole('button').first().click()
  const dialog = page.getByRole('dialog')
  await expect(dialog).toContainText('Codes are keys')
  await expect(dialog.getByRole('button', { name: 'Open the paper' })).toBeDisabled()
  await dialog.getByLabel('What do you need it for?').fill('cutting lot A1')
  await dialog.getByRole('button', { name: 'Open the paper' }).click()
  // The paper is made when it is asked for, and never kept.
  await expect(dialog.getByRole('link', { name: /Show it/ })).toBeVisible({ timeout: 20_000 })
  await page.keyboard.press('Escape')
  await expect(dialog).toBeHidden()
})

test('an address with nothing behind it says so', async ({ page }) => {
  await page.goto('/orders/99-999')
  await expect(page.getByRole('heading', { name: 'There is no such order' })).toBeVisible()
  await page.goto('/nowhere')
  await expect(page.getByRole('heading', { name: 'There is no such page' })).toBeVisible()
})

test('a server that does not answer is said in words, and trying again brings the page', async ({ page }) => {
  await page.route('**/api/orders', (route) => route.abort())
  await page.goto('/orders')
  await expect(page.getByRole('heading', { name: 'The server does not answer' })).toBeVisible()
  await page.unroute('**/api/orders')
  await page.getByRole('button', { name: 'Try again' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Orders' })).toBeVisible()
})
