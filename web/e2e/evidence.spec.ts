import { expect, test } from '@playwright/test'

test('a calculation answers as one types, with its working, and its address opens it for a colleague', async ({
  page,
  context,
}) => {
  await page.goto('/evidence')
  await page.getByRole('link', { name: 'Time and current for a plated thickness' }).click()
  await page.getByLabel('Metal').selectOption('nickel')
  await page.getByLabel(/Plated area/).fill('1')
  await page.getByLabel(/Current density/).fill('2')
  await page.getByLabel(/Cathode efficiency/).fill('95')
  await page.getByLabel(/Mean thickness/).fill('6,0')
  const result = page.getByRole('region', { name: 'Result' })
  await expect(result.getByRole('row', { name: /Time in the tank/ })).toContainText('min')
  await expect(result.getByRole('math').first()).toBeVisible()
  await expect(page).toHaveURL(/#/)

  const colleague = await context.newPage()
  await colleague.goto(page.url())
  await expect(
    colleague.getByRole('region', { name: 'Result' }).getByRole('row', { name: /Time in the tank/ }),
  ).toBeVisible()
})

test('a bad field says what is wrong and keeps what was typed; a good one mends it', async ({ page }) => {
  await page.goto('/evidence/calculations/finish.deposit')
  await page.getByRole('button', { name: /nickel, 6 µm at 2/ }).click()
  const result = page.getByRole('region', { name: 'Result' })
  await expect(result.getByRole('row', { name: /Time in the tank/ })).toBeVisible()

  const density = page.getByLabel(/Current density/)
  await density.fill('-3')
  await density.blur()
  await expect(density).toHaveValue('-3')
  await expect(density).toHaveAttribute('aria-invalid', 'true')
  await expect(page.getByText(/Current density is out of range\. Allowed: at least 0\.001/)).toBeVisible()
  await density.fill('4')
  await expect(page.getByText(/is out of range/)).toBeHidden()
  await expect(density).toHaveAttribute('aria-invalid', 'false')
})

test('all missing fields are named when one asks for the result', async ({ page }) => {
  await page.goto('/evidence/calculations/finish.deposit')
  await page.getByRole('button', { name: 'Calculate' }).click()
  await expect(page.getByText(/Metal is missing/)).toBeVisible()
  await expect(page.getByText(/Current density is missing/)).toBeVisible()
})

test('a long calculation runs on its button and can be filled from a case it is checked against', async ({ page }) => {
  await page.goto('/evidence/calculations/body.cut-plan')
  await page.getByText('Fill in a case it is checked against').click({ trial: true })
  const examples = page.locator('.examples')
  if ((await examples.getAttribute('open')) === null)
    await page.getByText('Fill in a case it is checked against').click()
  await examples.getByRole('button').first().click()
  await expect(page.getByRole('region', { name: 'Result' }).getByRole('row', { name: /bars/i }).first()).toBeVisible({
    timeout: 20_000,
  })
})

test('codes never reach the address', async ({ page }) => {
  await page.goto('/evidence/calculations/codes.issue')
  await expect(page.getByText('Codes are keys.').first()).toBeVisible()
  const examples = page.locator('.examples')
  if ((await examples.getAttribute('open')) === null)
    await page.getByText('Fill in a case it is checked against').click()
  await examples.getByRole('button').first().click()
  await page.waitForTimeout(1000)
  expect(new URL(page.url()).hash).toBe('')
})

test('the sources page counts what is published, common practice and from memory', async ({ page }) => {
  await page.goto('/evidence/sources')
  await expect(page.getByText(/Published and read: \d+ of \d+/)).toBeVisible()
  await expect(page.getByText(/From memory, unverified: \d+ of \d+/)).toBeVisible()
  await page.getByRole('link', { name: 'finish.deposit' }).first().click()
  await expect(page.getByRole('heading', { level: 1, name: 'Time and current for a plated thickness' })).toBeVisible()
})
