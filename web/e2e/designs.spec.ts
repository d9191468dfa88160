import { expect, test } from '@playwright/test'

test('a design is drawn, its figures move its margins, and a contradiction is said at its field', async ({ page }) => {
  await page.goto('/designs')
  await page.getByRole('link', { name: /Harbour/ }).click()
  await expect(page.getByRole('tablist', { name: 'Drawings' })).toBeVisible()
  await expect(page.getByRole('tabpanel').getByRole('img').first()).toBeVisible()

  const step = page.getByLabel('Angle between gate positions')
  const was = await step.inputValue()
  await step.fill('90')
  await expect(page.getByText(/do not fit on the disc/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Save as new revision' })).toBeDisabled()
  await page.getByRole('button', { name: 'Reset' }).click()
  await expect(step).toHaveValue(was)
  await expect(page.getByText('As stored.')).toBeVisible()
})
