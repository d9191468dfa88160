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

test('how far the plan is shows while it is made, and it can be stopped', async ({ page }) => {
  const job = { id: 'j', kind: 'hand-in', subject: 'T-1', askedBy: 'R. Thorne', askedAt: '2026-11-26T06:00:00Z' }
  const standing = { ...job, state: 'working', share: 0.4, doing: 'Cutting the bars', cancelAsked: false }
  let cancelAsked = false
  await page.route('**/api/jobs/j**', (route) => {
    if (route.request().method() === 'DELETE') cancelAsked = true
    const now = cancelAsked ? { ...standing, state: 'cancelled', cancelAsked } : standing
    if (route.request().url().endsWith('/progress'))
      return route.fulfill({ contentType: 'text/event-stream', body: `event: job\ndata: ${JSON.stringify(now)}\n\n` })
    if (route.request().url().endsWith('/answer'))
      return route.fulfill({
        ...{ status: 409, contentType: 'application/json' },
        body: JSON.stringify({ issues: [{ path: '', code: 'contradiction', message: 'This was cancelled.' }] }),
      })
    return route.fulfill({ contentType: 'application/json', body: JSON.stringify(now) })
  })
  await page.route('**/api/orders', (route) =>
    route.request().method() === 'POST'
      ? route.fulfill({ status: 202, contentType: 'application/json', body: JSON.stringify(job) })
      : route.fallback(),
  )
  await page.goto('/orders')
  await choose(page, 'order.json', await orderFile(page, () => {}))
  const bar = page.getByRole('progressbar', { name: 'Planning the order: Cutting the bars' })
  await expect(bar).toHaveAttribute('value', '0.4')
  await page.getByRole('button', { name: 'Stop it' }).click()
  await expect(page.getByText('Stopped. Nothing was stored, no code was given out.')).toBeVisible()
  await expect(page.getByLabel(/The order, from order.json/)).not.toHaveValue('')
})
