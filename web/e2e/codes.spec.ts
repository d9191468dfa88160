import { expect, type Page, test } from '@playwright/test'
import { axeFindings } from './axe.ts'

const THOUSAND = Array.from(
  { length: 1000 },
  (_, i) => `Lock ${i + 1}: Key ${i + 1}, Group ${Math.floor(i / 50) + 1}, Master`,
).join('\n')

const outcome = (page: Page) => page.getByRole('region', { name: 'What it costs' })
const matrix = (page: Page) => page.getByRole('region', { name: /^Matrix of/ })

test('the codes of each design: how many, given out, left, and what each rule takes', async ({ page }) => {
  await page.goto('/orders')
  await page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: 'Codes' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Codes' })).toBeVisible()
  const space = page.getByRole('region', { name: 'Harbour 50' })
  await expect(space).toContainText('Given out')
  await expect(space).toContainText('26-041')
  await expect(space.getByRole('img', { name: /are given out.*are left/ })).toBeVisible()
  await expect(space.getByRole('row', { name: /at most 2 equal values in a row/ })).toContainText('%', {
    timeout: 15_000,
  })
})

const said = async (form: ReturnType<Page['getByRole']>, why: string) => {
  await form.getByLabel('Why', { exact: true }).fill(why)
}

test('a code is withdrawn and a range reserved and released, each with who and why', async ({ page }) => {
  await page.goto('/codes')
  const space = page.getByRole('region', { name: 'Harbour 50' })
  await space.getByText('Withdraw a code').click()
  const withdraw = space.getByRole('form', { name: 'Withdraw it' })
  await withdraw.getByLabel('Blind code').fill('ABCD1234')
  await said(withdraw, 'key lost on the quay')
  await withdraw.getByRole('button', { name: 'Withdraw it' }).click()
  await expect(withdraw.getByRole('alert', { name: 'Nothing was done' })).toContainText('no blind code of this design')
  await withdraw.getByLabel('The code is known by').selectOption('number')
  await withdraw.getByLabel('Issue number').fill('7')
  await withdraw.getByRole('button', { name: 'Withdraw it' }).click()
  await expect(space.getByRole('row', { name: /withdrawn 7 1 key lost on the quay R. Thorne/ })).toBeVisible()

  await space.getByText('Reserve a range of numbers').click()
  const reserve = space.getByRole('form', { name: 'Reserve it' })
  await reserve.getByLabel('First number').fill('5000')
  await reserve.getByLabel('Last number').fill('5 999')
  await said(reserve, 'kept for the lock gates')
  await reserve.getByRole('button', { name: 'Reserve it' }).click()
  await expect(space.getByRole('row', { name: /reserved 5000-5999/ })).toBeVisible()
  await expect(space.getByRole('img', { name: /are reserved/ })).toBeVisible()
  await space.getByRole('button', { name: 'Release 5000-5999' }).click()
  const release = space.getByRole('form', { name: 'Release the range' })
  await said(release, 'customer went elsewhere')
  await release.getByRole('button', { name: 'Release the range' }).click()
  await expect(space.getByRole('row', { name: /reserved 5000-5999/ })).toHaveCount(0)
})

test('a list from before the tool: every bad line is shown, set aside by hand, and only then is the rest taken over', async ({
  page,
}) => {
  await page.goto('/codes')
  const space = page.getByRole('region', { name: 'Railyard 40' })
  await space.getByText('Take over codes from before the tool').click()
  const form = space.getByRole('form', { name: 'Take them over' })
  const chosen = page.waitForEvent('filechooser')
  await form.getByRole('button', { name: 'Choose a CSV file' }).click()
  // A hundred lines of seven cuts, so that some keep the rules of the design; line 2 has three cuts.
  const rows = Array.from({ length: 100 }, (_, i) =>
    [0, 1, 2, 3, 4, 5, 6].map((d) => (i * (d + 2) + d * d) % 6).join('-'),
  )
  await (await chosen).setFiles({
    name: 'old-codes.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(['code', '1-2-3', ...rows].join('\n')),
  })
  await said(form, 'locks of the old works')
  await form.getByRole('button', { name: 'Take them over' }).click()
  await expect(form.getByRole('alert', { name: 'Nothing was done' })).toContainText('Line 2: The code has 3 cuts')
  await expect(space.getByText('no list taken over')).toBeVisible()
  for (const box of await form.getByRole('checkbox').all()) await box.check()
  await form.getByRole('button', { name: 'Take them over' }).click()
  await expect(space.getByRole('row', { name: /from before the tool .* locks of the old works/ })).toBeVisible()
  await expect(space.getByText('one list', { exact: true })).toBeVisible()
})

test('other rules are tried on a design, and a contradiction is said', async ({ page }) => {
  await page.goto('/codes')
  await page.getByRole('button', { name: 'Try other rules for Railyard 40' }).click()
  const form = page.getByRole('region', { name: 'Try rules' })
  await expect(form).toContainText('From design RY40')
  const before = await form.locator('.figure-value').nth(1).textContent()
  await form.getByLabel(/Largest step between neighbours/).fill('3')
  await expect(form.getByRole('row', { name: /neighbours differ by at most 3/ })).toBeVisible()
  await expect(form.locator('.figure-value').nth(1)).not.toHaveText(before ?? '')
  await form.getByLabel(/Discs/).first().fill('30')
  await expect(form.getByText(/at least 1, at most 24/)).toBeVisible()
})

test('a chart from an order’s line under masters: placed, priced, its levels and who opens what', async ({ page }) => {
  await page.goto('/codes')
  await page.getByRole('link', { name: 'Charts of keys and locks' }).click()
  await page.getByLabel('Take from an order').selectOption('26-044')
  await page.getByRole('button', { name: /Line A: 220 locks/ }).click()
  await expect(page.getByLabel('Design')).toHaveValue('RY40')
  const levels = page.getByRole('region', { name: 'Levels' })
  await expect(levels).toContainText('Yard master')
  await expect(levels).toContainText('90 keys of their own')
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await expect(outcome(page)).toContainText('and nobody else', { timeout: 30_000 })
  await expect(outcome(page).getByRole('row', { name: /Unlisted codes per lock/ })).toBeVisible()
  await expect(outcome(page).getByRole('row', { name: /One lost key exposes/ })).toContainText('220 locks at most')
  await expect(outcome(page).getByRole('row', { name: /Room left/ })).toContainText('at least')
})

test('the cursor walks the matrix by keyboard, and the part that shows can be read out', async ({ page }) => {
  await page.goto('/codes/charts')
  const status = page.locator('.matrix-cursor')
  await expect(status).toHaveText('Key Harbour master opens lock Boathouse.')
  await matrix(page).focus()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('End')
  await expect(status).toHaveText('Key K6 does not open lock Slipway.')
  await page.keyboard.press('Control+End')
  await expect(status).toHaveText('Key K6 opens lock Crane.')
  await expect(page.getByRole('table', { name: /Locks 1 to 6 of 6/ })).toBeAttached()
  await expect(page.getByRole('row', { name: /Crane opens/ })).toBeAttached()
})

test('a thousand locks by a thousand keys scroll without a long frame', { tag: '@alone' }, async ({ page }) => {
  await page.goto('/codes/charts')
  await page.getByLabel('Locks, and the keys that open each').fill(THOUSAND)
  await expect(matrix(page)).toHaveAccessibleName(/1000 locks and 1021 keys/)
  const frames = await matrix(page).evaluate(async (box) => {
    const lengths: number[] = []
    let last = await new Promise<number>(requestAnimationFrame)
    for (let i = 0; i < 90; i++) {
      box.scrollTop += 170
      box.scrollLeft += 170
      const now = await new Promise<number>(requestAnimationFrame)
      lengths.push(now - last)
      last = now
    }
    return lengths.sort((a, b) => a - b)
  })
  // Sixty frames a second with room for a busy machine: the middle frame keeps pace, and few are late.
  expect(frames[45]).toBeLessThan(34)
  expect(frames[80]).toBeLessThan(100)
  await matrix(page).focus()
  await page.keyboard.press('Control+End')
  await page.keyboard.press('Control+ArrowDown')
  await expect(page.locator('.matrix-cursor')).toContainText('lock Lock 1000')
})

test('what cannot be read is named by line; an order no design can do is refused with its tightest group', async ({
  page,
}) => {
  await page.goto('/codes/charts')
  const text = page.getByLabel('Locks, and the keys that open each')
  await text.fill('Gate: K1\nStore\nGate: K2')
  await expect(page.getByRole('alert', { name: 'Lines to be mended' })).toContainText('Line 2')
  await expect(page.getByRole('alert', { name: 'Lines to be mended' })).toContainText('Line 3')
  await expect(page.getByRole('button', { name: 'Place the chart' })).toBeDisabled()
  await page.getByLabel('Design').selectOption('RY40')
  await text.fill(`One lock: ${Array.from({ length: 2300 }, (_, i) => `K${i}`).join(', ')}`)
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await expect(outcome(page).getByRole('alert')).toContainText('tightest', { timeout: 30_000 })
})

test('a chart is extended: what is made stays, what is new is told, in words and in the matrix', async ({ page }) => {
  await page.goto('/codes/charts')
  await page.getByRole('button', { name: 'Next seed' }).click()
  await expect(page.getByLabel('Seed')).toHaveValue('2')
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await expect(outcome(page)).toContainText('and nobody else', { timeout: 30_000 })
  await page.getByRole('button', { name: 'Extend this chart' }).click()
  await expect(page.getByText('9 keys and 6 locks stay as they are')).toBeVisible()
  await expect(page.getByRole('button', { name: 'Place the chart' })).toBeDisabled()
  await page
    .getByLabel('Locks, and the keys that open each')
    .fill('Gatehouse: K7, Quay master, Harbour master\nCrane: K6, K7')
  await expect(page.getByText('New: 1 key (K7); 1 lock (Gatehouse).')).toBeVisible()
  await expect(matrix(page)).toHaveAccessibleName(/7 locks and 10 keys/)
  await expect(page.locator('.matrix-cursor')).toHaveText('Key K7 opens lock Gatehouse. New with this order.')
  await page.getByLabel('Locks, and the keys that open each').fill('Gatehouse: K7, Quay master, Harbour master')
  await expect(page.locator('.matrix-cursor')).toContainText('Both were made before.')
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await expect(outcome(page)).toContainText('All 9 keys and 6 locks made before are as they were', { timeout: 30_000 })
  await page
    .getByLabel('Extend a chart made before')
    .setInputFiles({ name: 'notes.json', mimeType: 'application/json', buffer: Buffer.from('{"keys":[]}') })
  await expect(page.getByText('notes.json: This is not a chart')).toBeVisible()
  await expect(page.getByRole('button', { name: 'Place the chart' })).toBeDisabled()
  await page.getByRole('button', { name: 'Start a new chart instead' }).click()
  await expect(matrix(page)).toHaveAccessibleName(/1 locks and 3 keys/)
})

test('placing can be cancelled, and no cut of a key reaches the page, its address or its storage', async ({ page }) => {
  const logged: string[] = []
  page.on('console', (message) => logged.push(message.text()))
  await page.goto('/codes/charts')
  await page.getByLabel('Locks, and the keys that open each').fill(THOUSAND)
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await page.getByRole('button', { name: 'Cancel' }).click()
  await expect(outcome(page)).toContainText('Cancelled')

  await page.getByLabel('Locks, and the keys that open each').fill('Gate: K1, M\nStore: K2, M')
  await page.getByRole('button', { name: 'Place the chart' }).click()
  await expect(outcome(page)).toContainText('and nobody else', { timeout: 30_000 })
  expect(new URL(page.url()).search + new URL(page.url()).hash).toBe('')
  const kept = await page.evaluate(() => JSON.stringify({ ...localStorage, ...sessionStorage }))
  expect(kept + logged.join()).not.toMatch(/code|gates|cuts/i)
  await expect(page.getByText(/\d(, ?\d){5}/)).toHaveCount(0)
})

for (const path of ['/codes', '/codes/charts'])
  test(`axe finds nothing on ${path}`, async ({ page }) => {
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await page.goto(path)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    if (path === '/codes') await expect(page.getByRole('row', { name: /equal values/ }).first()).toBeVisible()
    else {
      await page.getByRole('button', { name: 'Place the chart' }).click()
      await expect(outcome(page)).toContainText('and nobody else', { timeout: 30_000 })
    }
    expect(await axeFindings(page)).toEqual([])
  })
