import { expect, test } from '@playwright/test'
import { SIGNED_IN } from '../../scripts/own-server.mjs'
import { axeFindings } from './axe.ts'

test('somebody who writes an order system finds what a token reaches, and a line that hands in an order', async ({
  page,
}) => {
  await page.goto('/api-reference')
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('API reference')
  await page
    .locator('.scopes')
    .getByRole('link', { name: /^Hand in an order/ })
    .click()
  await expect(page).toHaveURL(/\/api-reference\/post-orders$/)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^Hand in an order/)
  await expect(page.getByText('A token with orders:write (may hand in orders, as JSON or CSV)')).toBeVisible()
  const line = page.getByRole('region', { name: 'As a command, with application/json' })
  await expect(line).toContainText('Authorization: Bearer hasp_YOUR_TOKEN')
  await expect(line).toContainText('"schema": "haspwright/order/1"')
  await expect(page.getByRole('region', { name: 'As a command, with text/csv' })).toContainText('line.keysPerLock')
  const fields = page.getByRole('list', { name: 'Fields', exact: true })
  await expect(fields.getByText('Locks, or keys for a replacement')).toBeVisible()
  await expect(fields.getByText('whole number · from 1 to 100000').first()).toBeVisible()
  await expect(page.getByText('Bad input: every issue at once')).toBeVisible()
})

test('the line hands in the order as it stands, with a token in its place', async ({ page, browser }) => {
  const administrator = await browser.newPage({ storageState: SIGNED_IN.administrator })
  await administrator.goto('/tokens')
  await administrator.getByRole('link', { name: 'What a token reaches, and how it is sent' }).waitFor()
  await administrator.getByLabel('Service account').fill('Order system of the reference')
  await administrator.getByRole('button', { name: 'Make the token' }).click()
  const token = (await administrator.getByText(/^hasp_[A-Za-z0-9_-]{40,}$/).textContent()) ?? ''
  await administrator.close()
  await page.goto('/api-reference/post-orders')
  const line = (await page.getByRole('region', { name: 'As a command, with application/json' }).textContent()) ?? ''
  const [, address = ''] = /curl -X POST '([^']+)'/.exec(line) ?? []
  const [, data = ''] = /--data-binary '([^']+)'/.exec(line) ?? []
  const answer = await fetch(address, {
    method: 'POST',
    headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
    body: data,
  })
  expect(answer.status).toBe(201)
})

test('a route is found by words and opened by the keyboard, and its address opens it again', async ({ page }) => {
  await page.goto('/api-reference')
  const find = page.getByRole('searchbox', { name: 'Find a route' })
  await find.focus()
  await page.keyboard.type('plated thickness time')
  await expect(page.getByRole('status').filter({ hasText: 'Enter opens the first' })).toContainText(/^\d+ routes?,/)
  await page.keyboard.press('Enter')
  await expect(page).toHaveURL(/\/api-reference\/finish\.deposit\?find=/)
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('Time and current for a plated thickness')
  await expect(page.getByText('number, in dm² · from 0.0001 to 10000')).toBeVisible()
  await expect(page.getByText('No token reaches this')).toBeVisible()
  await page.reload()
  await expect(find).toHaveValue('plated thickness time')
  await expect(page.getByRole('link', { name: /Time and current for a plated thickness/ })).toHaveAttribute(
    'aria-current',
    'page',
  )
  await find.fill('no such words at all')
  await expect(page.getByText('No route has these words.')).toBeVisible()
})

test('an address of a route that this server has not says so', async ({ page }) => {
  await page.goto('/api-reference/delete-the-works')
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('There is no such route')
})

test('every route of the document has its sheet', async ({ page }) => {
  await page.goto('/api-reference')
  const { paths } = (await (await page.request.get('/api/openapi.json')).json()) as {
    paths: Record<string, Record<string, { operationId?: string }>>
  }
  const names = Object.values(paths).flatMap((methods) =>
    Object.values(methods).flatMap((one) => one.operationId ?? []),
  )
  const links = await page.locator('.route-index a').evaluateAll((all) => all.map((a) => a.getAttribute('href')))
  expect(new Set(links)).toEqual(new Set(names.map((name) => `/api-reference/${name}`)))
  for (const name of ['put-designs-id', 'post-orders-id-code-papers', 'get-designs-id-solids-mesh', 'codes.chart']) {
    await page.goto(`/api-reference/${name}`)
    await expect(page.getByRole('heading', { name: 'Who may ask' })).toBeVisible()
  }
})

test('on a narrow tablet one thing is shown at a time', async ({ page }) => {
  await page.setViewportSize({ width: 820, height: 1180 })
  await page.goto('/api-reference/post-orders')
  await expect(page.getByRole('navigation', { name: 'Routes' })).toBeHidden()
  expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(0)
  await page.getByRole('link', { name: 'All routes' }).click()
  await page.getByRole('searchbox', { name: 'Find a route' }).fill('health')
  await page.getByRole('link', { name: /A sign of life/ }).click()
  await expect(page.getByRole('heading', { level: 1 })).toHaveText('A sign of life')
})

test('the sheet of a route goes onto paper with its fields and no index', async ({ page }) => {
  await page.emulateMedia({ media: 'print' })
  await page.goto('/api-reference/post-orders')
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
  await expect(page.getByRole('searchbox')).toBeHidden()
  await expect(page.getByText('Terms of the harbour authority').first()).toBeVisible()
})

for (const path of ['/api-reference', '/api-reference/post-orders', '/api-reference/finish.deposit?find=deposit'])
  test(`axe finds nothing on ${path}`, async ({ page }) => {
    test.slow() // a long page: every field of an order, and every route beside it
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await page.goto(path)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    expect(await axeFindings(page)).toEqual([])
  })

test.describe('somebody who is not signed in', () => {
  test.use({ storageState: { cookies: [], origins: [] } })

  test('may read the reference, which holds nothing of a works', async ({ page }) => {
    await page.goto('/api-reference/post-orders')
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(/^Hand in an order/)
    await page.goto('/orders')
    await expect(page.getByRole('heading', { level: 1, name: 'Sign in' })).toBeVisible()
  })
})
