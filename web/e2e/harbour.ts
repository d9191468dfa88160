import { expect, type Page } from '@playwright/test'

/** The demo order that most tests look at. */
export const HARBOUR = '26-041'

/** Opens the harbour order at a station and waits until its plan stands. */
export async function openHarbour(page: Page, station?: string): Promise<void> {
  await page.goto(`/orders/${HARBOUR}${station === undefined ? '' : `?station=${station}`}`)
  await expect(page.getByRole('heading', { level: 1, name: /Skerrivoe Harbour/ })).toBeVisible()
  await expect(page.getByRole('tablist', { name: /Route of/ })).toBeVisible()
}

/** The margins, as rows that can be pressed. */
export const marginRows = (page: Page) =>
  page.getByRole('region', { name: 'Margins, tightest first' }).getByRole('button')

/** A demo order file with another number, so that it can be handed in again and again. */
export async function orderFile(page: Page, change: (order: Record<string, unknown>) => void): Promise<string> {
  const stored = (await (await page.request.get(`/api/orders/${HARBOUR}`)).json()) as { order: Record<string, unknown> }
  const order = { ...stored.order, id: `T-${Date.now()}` }
  change(order)
  return JSON.stringify(order, null, 2)
}
