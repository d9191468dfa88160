import { expect, type Page, request } from '@playwright/test'
import { PASSWORD } from '../../scripts/let-people-in.mjs'
import { OWN_SERVER, SIGNED_IN } from '../../scripts/own-server.mjs'

/** Invites somebody as the administrator and comes in by the link in a browser of their own. */
export async function comeIn(
  page: Page,
  { name, email, roles }: { name: string; email: string; roles: readonly string[] },
): Promise<void> {
  const administrator = await request.newContext({ storageState: SIGNED_IN.administrator })
  const made = await administrator.post(`${OWN_SERVER}/api/invitations`, {
    data: { name, email, roles },
    headers: { origin: OWN_SERVER },
  })
  const { link } = (await made.json()) as { link: string }
  await administrator.dispose()
  await page.goto(link)
  await page.getByLabel('Password', { exact: true }).fill(PASSWORD)
  await page.getByRole('button', { name: 'Come in' }).click()
  await expect(page.getByRole('link', { name: `My account: ${name}` })).toBeVisible()
}
