import { expect, test } from '@playwright/test'

test('a design is drawn, its figures move its margins, and a contradiction is said at its field', async ({ page }) => {
  await page.goto('/designs')
  await page.getByRole('link', { name: /Harbour/ }).click()
  await expect(page.getByRole('tablist', { name: 'Drawings' })).toBeVisible()
  await expect(page.getByRole('tabpanel').getByRole('img').first()).toBeVisible()

  const values = page.getByLabel('Gate positions of a disc')
  const was = await values.inputValue()
  await values.fill('12')
  await expect(page.getByText(/do not fit on the disc/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Save as new revision' })).toBeDisabled()
  await page.getByRole('button', { name: 'Reset' }).click()
  await expect(values).toHaveValue(was)
  await expect(page.getByText('As stored.')).toBeVisible()
})
