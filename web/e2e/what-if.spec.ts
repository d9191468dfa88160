import { expect, type Page, test } from '@playwright/test'
import { marginRows, openHarbour } from './harbour.ts'

const RELEASE = 'Release clearance at −40'

async function openFigures(page: Page) {
  await openHarbour(page, 'close')
  await page.getByText('Try other figures').click()
  const more = page.getByText(/more figures?/)
  await expect(page.getByRole('group').first()).toBeVisible()
  await more.click()
}

const recess = (page: Page) => page.getByRole('group', { name: /Recess depth for the balls/ })
const place = async (page: Page, text: string) =>
  (await marginRows(page).allInnerTexts()).findIndex((row) => row.includes(text))

test('a changed figure moves its margin at once, leaves a mark where it was, and changes the order of the rows', async ({
  page,
}) => {
  await openFigures(page)
  const row = marginRows(page).filter({ hasText: RELEASE })
  const before = await row.getAttribute('aria-label')
  const placeBefore = await place(page, RELEASE)

  const field = recess(page).getByLabel('Nominal')
  const was = await field.inputValue()
  await field.fill((Number(was) - 0.1).toFixed(3).replace('.', ','))
  await expect(row).not.toHaveAttribute('aria-label', before ?? '')
  await expect(row).toContainText('short')
  await expect(row.locator('.ghost')).toBeAttached()
  expect(await place(page, RELEASE)).toBeLessThan(placeBefore)
  await expect(page.getByText('Tried figures, not the plan.')).toBeVisible()
  await expect(page.getByRole('tab', { name: /Close/ })).toContainText('short')

  await page.getByRole('button', { name: 'Reset' }).click()
  await expect(row).toHaveAttribute('aria-label', before ?? '')
  await expect(field).toHaveValue(was)
})

test('a field keeps what was typed, says what is wrong, and the margins keep the last figures that could be read', async ({
  page,
}) => {
  await openFigures(page)
  const row = marginRows(page).filter({ hasText: RELEASE })
  const before = await row.getAttribute('aria-label')
  const field = recess(page).getByLabel('Nominal')
  await field.fill('deep')
  await expect(field).toHaveValue('deep')
  await expect(recess(page)).toContainText('must be a number')
  await expect(row).toHaveAttribute('aria-label', before ?? '')
  await field.fill('99')
  await expect(recess(page)).toContainText('Allowed: at least 0.2 mm, at most 20 mm')
  await expect(page.getByRole('button', { name: 'Save as new revision' })).toBeDisabled()
})

test('arrow keys move the last decimal', async ({ page }) => {
  await openFigures(page)
  const field = recess(page).getByLabel('Nominal')
  await field.fill('2,60')
  await field.press('ArrowUp')
  await expect(field).toHaveValue('2,61')
  await field.press('Shift+ArrowDown')
  await expect(field).toHaveValue('2,51')
})

test('saving shows what changes, and a version stored meanwhile is not overwritten unseen', async ({ page }) => {
  await openFigures(page)
  await page.route('**/api/designs/HB50', async (route) => {
    if (route.request().method() !== 'PUT') return route.continue()
    await route.fulfill({
      status: 412,
      contentType: 'application/json',
      body: JSON.stringify({
        issues: [{ path: '', code: 'contradiction', message: 'Somebody stored this design meanwhile.' }],
      }),
    })
  })
  const field = recess(page).getByLabel('Nominal')
  const was = await field.inputValue()
  await field.fill((Number(was) + 0.01).toFixed(3))
  await page.getByRole('button', { name: 'Save as new revision' }).click()
  const dialog = page.getByRole('dialog')
  await expect(dialog.getByRole('row', { name: /Recess depth/ })).toBeVisible()
  await dialog.getByRole('button', { name: 'Save revision' }).click()
  await expect(dialog.getByRole('alert')).toContainText('changed elsewhere')
  await dialog.getByRole('button', { name: 'Back' }).click()
  await expect(field).toHaveValue((Number(was) + 0.01).toFixed(3))
})

test('a saved figure becomes a revision, and the order is planned again with it', async ({ page }) => {
  await page.goto('/orders/26-044?design=RY40&station=close')
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Railyard 40 rev A')
  await page.getByText('Try other figures').click()
  await page.getByText(/more figures?/).click()
  const field = recess(page).getByLabel('Nominal')
  const tried = (Number(await field.inputValue()) + 0.01).toFixed(3)
  await field.fill(tried)
  await page.getByRole('button', { name: 'Save as new revision' }).click()
  const dialog = page.getByRole('dialog')
  await expect(dialog.getByLabel('Name of the revision')).toHaveValue('B')
  await dialog.getByRole('button', { name: 'Save revision' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toContainText('Railyard 40 rev B', { timeout: 20_000 })
  await expect(page.getByText('Tried figures, not the plan.')).toBeHidden()

  await page.goto('/designs/RY40')
  await page
    .locator('summary')
    .filter({ hasText: /^Barrel/ })
    .click()
  await expect(recess(page).getByLabel('Nominal')).toHaveValue(String(Number(tried)))
})
