import { expect, test } from '@playwright/test'
import { axeFindings } from './axe.ts'

test('every chain of a design is drawn with its dimensions, cold, warm and hot, and can be read as a table', async ({
  page,
}) => {
  await page.goto('/designs/HB50')
  const chains = page.getByRole('region', { name: 'Chains of dimensions' })
  await expect(chains.getByRole('img', { name: /Chain of Release clearance/ })).toBeVisible()
  for (const at of ['−40', '20', '70']) await expect(chains.getByText(new RegExp(`Whole lock at ${at}`))).toBeVisible()
  await chains.getByRole('button', { name: /^Locked engagement/ }).click()
  await expect(chains.getByRole('img', { name: /Chain of Locked engagement/ })).toHaveAccessibleName(
    /worst case .* ± 3 s .* simulated locks hold it/,
  )
  await chains.getByText('The same as tables').click()
  const table = chains.getByRole('table', { name: /what each dimension does/ })
  await expect(table.getByRole('row', { name: /Barrel axis to leg axis/ })).toContainText('%')
  await expect(chains.getByRole('table', { name: /comes to/ }).getByRole('row')).toHaveCount(4)
})

test('a tolerance held closer moves the chain, its table and the whole lock at once', async ({ page }) => {
  await page.goto('/designs/HB50')
  const chains = page.getByRole('region', { name: 'Chains of dimensions' })
  await chains.getByText('The same as tables').click()
  const row = chains.getByRole('row', { name: /Barrel recess depth/ })
  await expect(row).toContainText('−30')
  const lock = chains.getByRole('definition').first()
  const before = await lock.textContent()
  await page.getByText('Barrel', { exact: true }).first().click()
  const recess = page.getByRole('group', { name: /Recess depth for the balls/ })
  await recess.getByLabel('Deviation down', { exact: true }).fill('0,06')
  await expect(row).toContainText('−60')
  await expect(lock).not.toHaveText(before ?? '')
})

test('the working of a margin shows its chain, on an order and on a design, where it follows a figure that is tried', async ({
  page,
}) => {
  const chain = page.getByRole('img', { name: /^Chain of Release clearance at −40/ })
  const working = page.getByRole('button', { name: /Release clearance at −40.*Show working/ })
  await page.goto('/orders/26-041?station=close')
  await working.click()
  await expect(chain).toBeVisible()
  await page.goto('/designs/HB50')
  await working.click()
  const before = await chain.textContent()
  await page.getByText('Barrel', { exact: true }).first().click()
  await page
    .getByRole('group', { name: /Recess depth for the balls/ })
    .getByLabel('Nominal', { exact: true })
    .fill('2.75')
  await expect(chain).not.toHaveText(before ?? '')
})

test('axe finds nothing on the chains of a design, tables open', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.goto('/designs/HB50')
  await page.getByRole('region', { name: 'Chains of dimensions' }).getByText('The same as tables').click()
  expect(await axeFindings(page)).toEqual([])
})
