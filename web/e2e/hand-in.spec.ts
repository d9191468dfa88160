import { expect, type Page, test } from '@playwright/test'
import { orderFile } from './harbour.ts'

async function choose(page: Page, name: string, content: string) {
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Choose an order file' }).click()
  await (await chooser).setFiles({ name, mimeType: 'application/json', buffer: Buffer.from(content) })
}

test('a good order is handed in, planned and shown', async ({ page }) => {
  await page.goto('/orders')
  await choose(page, 'order.json', await orderFile(page, () => {}))
  await expect(page).toHaveURL(/\/orders\/T-\d+/)
  await expect(page.getByRole('tablist', { name: /Route of/ })).toBeVisible()
})

test('everything wrong with an order is listed at once, and its text stays to be mended', async ({ page }) => {
  await page.goto('/orders')
  const file = await orderFile(page, (order) => {
    const lines = order['lines'] as { quantity: number; design: string }[]
    if (lines[0] !== undefined) lines[0].quantity = 0
    if (lines[1] !== undefined) lines[1].quantity = 1_000_000_000
    order['due'] = 'soon'
    order['colour'] = 'blue'
  })
  await choose(page, 'bad.json', file)
  const issues = page.getByRole('alert', { name: /to be mended/ })
  for (const path of ['lines[0].quantity', 'lines[1].quantity', 'due', 'colour'])
    await expect(issues).toContainText(path)
  await expect(page.getByLabel(/The order, from bad.json/)).toHaveValue(file)
})

test('a file that is not JSON says where it stops being one', async ({ page }) => {
  await page.goto('/orders')
  await choose(page, 'broken.json', '{\n  "id": 26-041\n}')
  await expect(page.getByRole('alert', { name: /to be mended/ })).toContainText('line 2')
  await choose(page, 'empty.json', '')
  await expect(page.getByRole('alert', { name: /to be mended/ })).toContainText('empty')
})
