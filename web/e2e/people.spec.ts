import { expect, type Page, test } from '@playwright/test'
import { codeNow, PASSWORD } from '../../scripts/let-people-in.mjs'
import { OWN_SERVER, SIGNED_IN } from '../../scripts/own-server.mjs'
import { violationsOf } from './axe.ts'
import { comeIn } from './come-in.ts'

const signOnly = (page: Page) => page.getByRole('main')

/** Enrols a second factor on the account page. @returns its secret */
async function enrol(page: Page): Promise<string> {
  await page.goto('/account')
  await page.getByRole('form', { name: 'Enrol a second factor' }).getByLabel('Your password, once more').fill(PASSWORD)
  await page.getByRole('button', { name: 'Begin' }).click()
  await expect(page.getByRole('img', { name: 'Code to read with an authenticator' })).toBeVisible()
  const secret = ((await page.locator('.enrolment .figure').textContent()) ?? '').replace(/\s/g, '')
  await page.getByLabel('The code it shows now').fill(codeNow(secret))
  await page.getByRole('button', { name: 'Enrol' }).click()
  await expect(page.getByText('You signed in with it.')).toBeVisible()
  return secret
}

test.describe('somebody who is not signed in', () => {
  test.use({ storageState: { cookies: [], origins: [] } })

  test('is led to the sign-in, and back to where they wanted to go', async ({ page }) => {
    await page.goto('/designs/HB50')
    await expect(page.getByRole('heading', { level: 1, name: 'Sign in' })).toBeVisible()
    await page.getByLabel('E-mail address').fill('builder@tarnmoor.example')
    await page.getByLabel('Password').fill('not the right one')
    await page.getByRole('button', { name: 'Sign in' }).click()
    await expect(page.getByRole('alert')).toContainText('The address or the password is not right')
    await page.getByLabel('Password').fill(PASSWORD)
    await page.getByRole('button', { name: 'Sign in' }).click()
    await expect(page).toHaveURL(/\/designs\/HB50$/)
    await expect(page.getByRole('link', { name: 'My account: B. Uilder' })).toBeVisible()
  })

  test('is led to no other site after signing in', async ({ page }) => {
    await page.goto('/sign-in?to=https://elsewhere.example/')
    await page.getByLabel('E-mail address').fill('builder@tarnmoor.example')
    await page.getByLabel('Password').fill(PASSWORD)
    await page.getByRole('button', { name: 'Sign in' }).click()
    await expect(page).toHaveURL(/\/orders$/)
  })

  test('is told when a link was used up', async ({ page }) => {
    await page.goto('/invitation#used-long-ago')
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('This link leads nowhere')
  })

  test('comes in by an invitation, enrols a second factor and signs in with it', async ({ page }) => {
    await comeIn(page, { name: 'K. Registrar', email: 'registrar@tarnmoor.example', roles: ['registrar'] })
    await page.goto('/codes/custody')
    await expect(page.getByRole('alert')).toContainText('Enrol one first')
    const secret = await enrol(page)
    await expect(page.getByText('Recovery codes.')).toBeVisible()
    await page.getByRole('button', { name: 'Sign out', exact: true }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Sign in' })).toBeVisible()
    await page.getByLabel('E-mail address').fill('registrar@tarnmoor.example')
    await page.getByLabel('Password').fill(PASSWORD)
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.getByLabel('Code from your authenticator').fill(codeNow(secret))
    await page.getByRole('button', { name: 'Go on' }).click()
    await expect(page.getByRole('link', { name: 'My account: K. Registrar' })).toBeVisible()
    await page.goto('/codes/custody')
    await expect(page.getByRole('heading', { name: 'Who saw which code' })).toBeVisible()
  })

  test('comes in by a passkey that the device asked a finger for', async ({ page }) => {
    const devtools = await page.context().newCDPSession(page)
    await devtools.send('WebAuthn.enable')
    await devtools.send('WebAuthn.addVirtualAuthenticator', {
      options: {
        protocol: 'ctap2',
        transport: 'internal',
        hasResidentKey: true,
        hasUserVerification: true,
        isUserVerified: true,
        automaticPresenceSimulation: true,
      },
    })
    await comeIn(page, { name: 'P. Asskey', email: 'passkey@tarnmoor.example', roles: ['inspector'] })
    await page.goto('/account')
    await page.getByLabel('Name of the passkey').fill('bench tablet')
    await page.getByRole('button', { name: 'Add a passkey' }).click()
    await expect(page.getByRole('button', { name: 'Remove bench tablet' })).toBeVisible()
    await page.getByRole('button', { name: 'Sign out', exact: true }).click()
    await page.getByRole('button', { name: 'Use a passkey' }).click()
    await expect(page.getByRole('link', { name: 'My account: P. Asskey' })).toBeVisible()
  })
})

test.describe('the administrator', () => {
  test.use({ storageState: SIGNED_IN.administrator })

  test('invites somebody by a link that is shown once, and withdraws it', async ({ page }) => {
    await page.goto('/')
    await expect(page.getByRole('heading', { level: 1, name: 'People' })).toBeVisible()
    await expect(page.getByRole('link', { name: 'Orders' })).toHaveCount(0)
    await page.getByLabel('Name').fill('O. Perator')
    await page.getByLabel('E-mail address').fill('operator@tarnmoor.example')
    await page.getByRole('checkbox', { name: /^Operator/ }).check()
    await page.getByRole('button', { name: 'Make the link' }).click()
    await expect(page.getByText(/\/invitation#/)).toBeVisible()
    await page.getByRole('button', { name: 'Withdraw the link of O. Perator' }).click()
    await expect(page.getByRole('button', { name: 'Withdraw the link of O. Perator' })).toHaveCount(0)
  })

  test('cannot make somebody administrator and registrar at once', async ({ page }) => {
    await page.goto('/people')
    await page.getByRole('button', { name: 'Change R. Thorne' }).click()
    const roles = page.getByRole('form', { name: 'Roles of R. Thorne' })
    await roles.getByRole('checkbox', { name: /^Administrator/ }).check()
    await roles.getByRole('button', { name: 'Give these roles' }).click()
    await expect(roles.getByRole('alert')).toContainText('must not be let at the codes')
  })

  test('asks for the renewal of somebody who reaches codes, and another approves it', async ({ page, browser }) => {
    const registrar = await browser.newPage({ storageState: SIGNED_IN.everyRole })
    const newcomer = await browser.newPage({ storageState: { cookies: [], origins: [] } })
    await comeIn(newcomer, { name: 'L. Ost', email: 'lost@tarnmoor.example', roles: ['registrar'] })
    await newcomer.close()
    await page.goto('/people')
    await page.getByRole('button', { name: 'Change L. Ost' }).click()
    await expect(page.getByRole('button', { name: 'Link for a new password' })).toHaveCount(0)
    await page.getByLabel('Why L. Ost is to be let in anew').fill('Forgot it over the holidays')
    await page.getByRole('button', { name: 'Ask for a new password' }).click()
    const request = page.getByRole('article', { name: 'Request for a new password for L. Ost' })
    await expect(request).toContainText('You asked: another administrator or a registrar decides.')
    await expect(request.getByRole('button')).toHaveCount(0)
    await registrar.goto('/codes/custody')
    const decision = registrar.getByRole('form', { name: 'Decide on a new password for L. Ost' })
    await decision.getByLabel('Why, for a new password for L. Ost').fill('Known by sight')
    await decision.getByRole('button', { name: 'Approve' }).click()
    await expect(registrar.getByText('Approved by R. Thorne')).toBeVisible()
    await registrar.close()
    await page.reload()
    await page.getByRole('button', { name: 'Change L. Ost' }).click()
    await page.getByRole('button', { name: 'Link for a new password' }).click()
    await expect(page.getByText(/\/invitation#/)).toBeVisible()
    await expect(page.getByRole('button', { name: 'Link for a new password' })).toHaveCount(0)
  })

  test('makes a token, which is shown once, and revokes it', async ({ page }) => {
    await page.goto('/tokens')
    await page.getByLabel('Service account').fill('Order system')
    await page.getByRole('button', { name: 'Make the token' }).click()
    await expect(page.getByText(/^hasp_[A-Za-z0-9_-]{40,}$/)).toBeVisible()
    await page.getByRole('button', { name: 'Revoke Order system' }).click()
    await expect(page.getByText('revoked')).toBeVisible()
  })

  test('is refused where codes are', async ({ page }) => {
    await page.goto('/codes')
    await expect(page.getByRole('heading', { level: 1 })).toHaveText('Not for your role')
  })

  for (const colorScheme of ['light', 'dark'] as const)
    test(`finds nothing for axe on people, tokens, roles and account, ${colorScheme}`, async ({ page }) => {
      await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
      for (const path of ['/people', '/tokens', '/roles', '/account']) await clean(page, path)
    })
})

test.describe('somebody with every role at the works', () => {
  test('asks for replacement keys and cannot approve them, also not elsewhere', async ({ page }) => {
    await page.goto('/codes/custody')
    await page.getByLabel('Order of the replacement keys').fill('26-047')
    await page.getByLabel('Why, and how the right was proved').fill('Signed request seen')
    await page.getByRole('button', { name: 'Ask', exact: true }).click()
    const request = page.getByRole('article', { name: 'Request for order 26-047' })
    await expect(request).toContainText('You asked: another registrar decides.')
    await expect(request.getByRole('button')).toHaveCount(0)
  })

  for (const colorScheme of ['light', 'dark'] as const)
    test(`finds nothing for axe on custody and account, ${colorScheme}`, async ({ page }) => {
      await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
      for (const path of ['/codes/custody', '/account']) await clean(page, path)
    })
})

test.describe('a builder', () => {
  test.use({ storageState: SIGNED_IN.builder })

  test('opens the stacks of the lot in hand and no other', async ({ page, browser }) => {
    const planner = await browser.newPage({ storageState: SIGNED_IN.everyRole })
    await planner.goto('/codes/custody')
    await planner.getByLabel('Order', { exact: true }).fill('26-041')
    await planner.getByLabel('Lot', { exact: true }).fill('26-041-A1')
    await planner.getByLabel('Builder').selectOption({ label: 'B. Uilder' })
    await planner.getByRole('button', { name: 'Give the lot' }).click()
    await expect(planner.getByRole('button', { name: 'Take 26-041-A1 back' })).toBeVisible()
    await planner.close()
    const open = async (path: string) =>
      (
        await page.request.post('/api/orders/26-041/code-papers', {
          data: { path, reason: 'building the lot' },
          headers: { origin: OWN_SERVER },
          timeout: 120_000,
        })
      ).status()
    expect(await open('secret/stacks-26-041-A1.pdf')).toBe(200)
    expect(await open('secret/stacks-26-041-A2.pdf')).toBe(403)
    expect(await open('secret/stacks.csv')).toBe(403)
    await page.goto('/codes/custody')
    await expect(page.getByRole('link', { name: '26-041-A1' })).toBeVisible()
  })
})

test('the pages to come in are clean for axe', async ({ browser }) => {
  const context = await browser.newContext({ storageState: { cookies: [], origins: [] } })
  const page = await context.newPage()
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
    for (const path of ['/sign-in', '/invitation#nothing']) await clean(page, path)
  }
  await context.close()
})

async function clean(page: Page, path: string): Promise<void> {
  await page.goto(path)
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
  await expect(signOnly(page)).toBeVisible()
  expect(await violationsOf(page), path).toEqual([])
}
