import { expect, type Page, test } from '@playwright/test'
import { OWN_SERVER, SIGNED_IN } from '../../scripts/own-server.mjs'
import { comeIn } from './come-in.ts'

/** A design, and an order of it whose plan is no longer of the design's latest revision. */
async function anOutdatedOrder(page: Page): Promise<string> {
  const headers = { origin: OWN_SERVER }
  const ask = async (method: 'GET' | 'POST' | 'PUT', path: string, data?: unknown, more = {}) => {
    const answer = await page.request.fetch(path, { method, data, headers: { ...headers, ...more }, timeout: 120_000 })
    expect(answer.ok(), `${method} ${path}: ${answer.status()}`).toBe(true)
    return answer.json()
  }
  const { content: design } = (await ask('GET', '/api/designs/RY40')) as { content: object }
  const copy = { ...design, id: 'RY41', title: 'Rail yard 41' }
  await ask('PUT', '/api/designs/RY41', copy, { 'if-none-match': '*' })
  const { order } = (await ask('GET', '/api/orders/26-044')) as { order: { lines: object[] } }
  const lines = order.lines.map((line) => ({ ...line, design: 'RY41' }))
  await ask('POST', '/api/orders', { ...order, id: '26-144', lines })
  await ask('PUT', '/api/designs/RY41', { ...copy, revision: 'Z' }, { 'if-match': '"1"' })
  return '26-144'
}

test.describe('an operator', () => {
  test.use({ storageState: { cookies: [], origins: [] } })

  test('looks at orders and designs, and is told who hands in, plans, saves and opens codes', async ({
    page,
    browser,
  }) => {
    const engineer = await browser.newPage({ storageState: SIGNED_IN.everyRole })
    const outdated = await anOutdatedOrder(engineer)
    await engineer.goto(`/orders/${outdated}`)
    await expect(engineer.getByRole('button', { name: 'Plan again' })).toBeVisible()
    await engineer.close()

    await comeIn(page, { name: 'L. Ooker', email: 'looker@tarnmoor.example', roles: ['operator'] })
    await page.goto('/orders')
    await expect(page.getByText('The production engineer or planner may hand in orders')).toBeVisible()
    await expect(page.getByRole('button', { name: 'Choose an order file' })).toHaveCount(0)

    await page.goto(`/orders/${outdated}`)
    await expect(page.getByText('A design or the works has changed since this plan was made.')).toBeVisible()
    await expect(page.getByRole('button', { name: 'Plan again' })).toHaveCount(0)
    // The papers of this order are made now.
    await expect(page.getByText('The key registrar may open any paper with codes').first()).toBeVisible({
      timeout: 100_000,
    })
    await expect(page.getByRole('button', { name: /^Stacks/ })).toHaveCount(0)

    await page.goto('/designs/HB50')
    await expect(page.getByRole('button', { name: 'Reset' })).toBeVisible()
    await expect(page.getByText('The production engineer may store new versions of designs.')).toBeVisible()
    await expect(page.getByRole('button', { name: 'Save as new revision' })).toHaveCount(0)

    await page.goto('/codes/custody')
    await expect(page.getByText('The key registrar may read who saw which code')).toBeVisible()
    await expect(page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Codes' })).toHaveCount(0)
    for (const path of ['/people', '/tokens', '/codes']) {
      await page.goto(path)
      await expect(page.getByRole('heading', { level: 1 })).toHaveText('Not for your role')
    }
  })
})

test.describe('a builder', () => {
  test.use({ storageState: SIGNED_IN.builder })

  test('opens papers of the lot in hand, and hands nothing in', async ({ page }) => {
    await page.goto('/orders')
    await expect(page.getByText('The production engineer or planner may hand in orders')).toBeVisible()
    await page.goto('/orders/26-041')
    await expect(page.getByText('You may open the stacks and keys of a lot in hand').first()).toBeVisible()
    await expect(page.getByRole('button', { name: /stack/i }).first()).toBeVisible()
  })
})

test.describe('a registrar without a second factor', () => {
  test.use({ storageState: { cookies: [], origins: [] } })

  test('is told what is missing, and led to the account', async ({ page }) => {
    await comeIn(page, { name: 'N. Ofactor', email: 'nofactor@tarnmoor.example', roles: ['registrar'] })
    await page.goto('/codes')
    const missing = page.getByText('take over codes, and replace codes that were seen, sign in with your second factor')
    await expect(missing.first()).toBeVisible()
    await expect(page.getByText('Withdraw a code')).toHaveCount(0)
    await missing.first().getByRole('link', { name: 'My account' }).click()
    await expect(page.getByRole('form', { name: 'Enrol a second factor' })).toBeVisible()
  })
})
