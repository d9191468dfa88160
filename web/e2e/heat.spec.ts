import { expect, type Page, test } from '@playwright/test'
import { axeFindings } from './axe.ts'
import { marginRows, openHarbour } from './harbour.ts'

const GOOD = ['min;Roof;Load', '0;20;20', '5;300;250', '10;620;560', '15;800;760', '20;832;828']
  .concat(
    Array.from({ length: 8 }, (_, i) => `${24 + 4 * i};831;829`),
    '53;831;130',
  )
  .join('\n')
const BAD = ['min;Roof;Load', '0;20;20', '5;300;hot', '4;620;560', '15;800', '20;832;9000'].join('\n')

async function openHeat(page: Page) {
  await openHarbour(page, 'harden')
  await expect(page.getByRole('img', { name: 'Tempering curve' })).toBeVisible({ timeout: 20_000 })
}

async function choose(page: Page, name: string, content: string) {
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Choose a furnace record' }).click()
  await (await chooser).setFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(content) })
}

const section = (page: Page) => page.getByRole('region', { name: 'Hardness over the section' })
const tempering = (page: Page) => page.getByRole('region', { name: 'Tempering curve' })
const cycle = (page: Page) => page.getByRole('region', { name: 'Furnace cycle' })

test('the plots of the hardening station are there, and words say the same', async ({ page }) => {
  await openHeat(page)
  const plot = page.getByRole('img', { name: /Hardness over the section of the shackle/ })
  await expect(plot).toBeVisible()
  await expect(plot.locator('desc')).toHaveText(/Surface .* HRC .* as quenched, .* tempered\..*Asked: \d+ to \d+ HRC/)
  for (const place of ['Surface', 'Mid-radius', 'Centre'])
    await expect(section(page).getByRole('row', { name: new RegExp(`^${place}`) })).toContainText('estimate')
  await expect(tempering(page)).toContainText('Temper embrittlement')
  await expect(tempering(page)).toContainText('225 K below the tempering')
  await expect(page.getByRole('img', { name: /Furnace cycle/ })).toBeVisible()
  await expect(page.getByRole('region', { name: 'Toughness at −40 °C' })).toContainText('Not known: test.')
  const charges = page.getByRole('region', { name: 'Furnace charges of the order' })
  await expect(charges).toContainText(/proven|not ruled out/)
  await expect(charges.getByRole('row', { name: /Recipe 1/ })).toContainText('kWh')
})

test('another tempering temperature moves the chosen point, the words and the margin at once; reset takes it back', async ({
  page,
}) => {
  await openHeat(page)
  const row = marginRows(page).filter({ hasText: 'Hardness after tempering, least' })
  const before = await row.getAttribute('aria-label')
  const chosen = tempering(page).locator('.chosen circle')
  const was = Number(await chosen.getAttribute('cx'))
  const field = page
    .getByRole('group', { name: /Try another steel/ })
    .getByLabel('Tempering temperature', { exact: true })
  await field.focus()
  await field.fill('520')
  await expect(tempering(page)).toContainText('520 °C for 60 min leaves')
  await expect.poll(async () => Number(await chosen.getAttribute('cx'))).toBeGreaterThan(was)
  await expect(row).not.toHaveAttribute('aria-label', before ?? '')
  await expect(row).toContainText('short')
  await page.getByRole('button', { name: 'Reset' }).click()
  await expect(row).toHaveAttribute('aria-label', before ?? '')
  await expect(tempering(page)).toContainText('430 °C for 60 min leaves')
})

test('a steel that no method reaches says why, and a poor quench is called an upper bound or softer', async ({
  page,
}) => {
  await openHeat(page)
  const tried = page.getByRole('group', { name: /Try another steel/ })
  await tried.getByLabel('Shackle steel').selectOption('30MnB5')
  await expect(section(page)).toContainText('hardens by its boron')
  await expect(tempering(page)).toContainText('No published tempering values of 30MnB5')
  await tried.getByLabel('Shackle steel').selectOption('41Cr4')
  await tried.getByLabel('Agitation of bath and part').selectOption('none')
  await expect(section(page).getByRole('row', { name: /^Centre/ })).toContainText(/estimate|upper bound/)
})

test('a good furnace record is laid over the recipe and judged check by check, and its limits can be changed', async ({
  page,
}) => {
  await openHeat(page)
  await choose(page, 'charge-17.csv', GOOD)
  const verdict = page.getByRole('region', { name: /Furnace record charge-17\.csv/ })
  await expect(verdict).toContainText('Accepted: every check holds.')
  await expect(verdict.getByRole('row', { name: /Time at temperature/ })).toContainText('at least 30 min')
  await expect(verdict).toContainText('Not stored')
  await expect(cycle(page).locator('.plot .record-trace')).toHaveCount(2)
  await expect(page.getByRole('img', { name: /Furnace cycle/ }).locator('desc')).toHaveText(/2 couples .* accepted/)

  await page.getByText('Limits the record is held against').click()
  await cycle(page).getByLabel('Time at temperature asked for').fill('45')
  await expect(verdict).toContainText('Rejected: a check falls short.')
  await page.getByRole('button', { name: "Back to the plan's limits" }).click()
  await expect(verdict).toContainText('Accepted')

  await page.emulateMedia({ media: 'print' })
  await expect(verdict).toBeVisible()
  await expect(page.getByText('Choose a furnace record')).toBeHidden()
})

test('a bad furnace record is not judged: every line that cannot be read is named', async ({ page }) => {
  await openHeat(page)
  await choose(page, 'broken.csv', BAD)
  const issues = page.getByRole('alert', { name: /things in the record cannot be read/ })
  for (const at of ['lines[3].columns[3]', 'lines[4].columns[1]', 'lines[5]', 'lines[6].columns[3]'])
    await expect(issues).toContainText(at)
  await choose(page, 'empty.csv', '')
  await expect(page.getByRole('alert', { name: /One thing in the record/ })).toContainText('no line with readings')
  await page.getByRole('button', { name: 'Take the record away' }).click()
  await expect(page.getByRole('alert', { name: /in the record/ })).toBeHidden()
})

test("a heat's own analysis is pasted, followed, kept in the address, and taken back", async ({ page, context }) => {
  await openHeat(page)
  const analysis = page.getByRole('region', { name: /Analysis and transformation/ })
  const surface = section(page).getByRole('row', { name: /^Surface/ })
  await expect(analysis).toContainText('Heat T4187 in the stock of the works, by its certificate')
  const before = await surface.textContent()
  await page.getByText("Use the analysis of the bar's own heat").click()
  await analysis.getByLabel('Paste from the certificate').fill('C 0,39 Si 0,2 Mn 0,62 Cr 0,93 Mo 0,16 Al 0,02')
  await analysis.getByRole('button', { name: 'Take over' }).click()
  await expect(analysis).toContainText('Not understood, and left out: Al 0,02')
  await expect(analysis.getByText("The bar's own analysis;")).toBeVisible()
  await expect(surface).not.toHaveText(before ?? '')
  await expect(analysis).toContainText('middle 326')
  await expect(page).toHaveURL(/analysis=/)
  await expect(page.getByText('follow the analysis typed at hardening')).toBeVisible()

  const colleague = await context.newPage()
  await colleague.goto(page.url())
  await expect(section(colleague).getByRole('row', { name: /^Surface/ })).toHaveText(
    (await surface.textContent()) ?? '',
    {
      timeout: 20_000,
    },
  )
  await colleague.close()

  await analysis.getByRole('button', { name: 'Back to heat T4187' }).click()
  await expect(surface).toHaveText(before ?? '')
  await expect(page).not.toHaveURL(/analysis=/)
})

test("an analysis outside the steel's range says which element, and the plots follow the bar all the same", async ({
  page,
}) => {
  await openHeat(page)
  await page.getByText("Use the analysis of the bar's own heat").click()
  const analysis = page.getByRole('region', { name: /Analysis and transformation/ })
  await analysis.getByLabel(/^Carbon/).fill('0,52')
  await expect(analysis).toContainText('is not complete')
  await expect(analysis.getByText(/Chromium is not stated/).first()).toBeVisible()
  for (const [element, percent] of [
    ['Manganese', '0.75'],
    ['Chromium', '1.05'],
    ['Molybdenum', '0.2'],
  ] as const)
    await analysis.getByLabel(new RegExp(`^${element}`)).fill(percent)
  await expect(page.getByRole('alert', { name: 'The certificate does not fit 42CrMo4' })).toContainText(
    '0.38 to 0.45 %',
  )
  await expect(analysis).toContainText('which is not 42CrMo4')
  await expect(marginRows(page).filter({ hasText: 'Analysis of the shackle bars' })).toContainText('short')
  await expect(section(page).locator('.ghost-line').first()).toBeAttached()
})

test('axe finds nothing on the hardening station with a record and an analysis', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openHeat(page)
  await choose(page, 'charge-17.csv', GOOD)
  await expect(page.getByText('Accepted: every check holds.')).toBeVisible()
  await page.getByText('Limits the record is held against').click()
  await page.getByText("Use the analysis of the bar's own heat").click()
  await page.getByLabel(/^Carbon/).fill('0,52')
  await expect(page.getByRole('alert', { name: /does not fit/ })).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
  const levels = await page
    .locator('h1:visible, h2:visible, h3:visible, h4:visible')
    .evaluateAll((all) => all.map((heading) => Number(heading.tagName.slice(1))))
  for (const [i, level] of levels.entries()) expect(level - (levels[i - 1] ?? 0)).toBeLessThanOrEqual(1)
})

test('the station is used with the keyboard alone, and nothing runs off a narrow page', async ({ page }) => {
  await page.setViewportSize({ width: 640, height: 800 })
  await openHeat(page)
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(over).toBeLessThanOrEqual(0)
  await page.getByLabel('Shackle steel').focus()
  for (const name of ['Bath', 'Agitation of bath and part', 'Tempering temperature', 'Time at tempering temperature']) {
    await page.keyboard.press('Tab')
    await expect(page.getByRole('group', { name: /Try another steel/ }).getByLabel(name, { exact: true })).toBeFocused()
  }
  await page.keyboard.press('Tab')
  await expect(page.getByRole('group', { name: /Heats in stock/ }).getByRole('radio', { checked: true })).toBeFocused()
  await page.keyboard.press('Tab')
  await page.keyboard.press('Enter')
  await page.keyboard.press('Tab')
  await expect(page.getByLabel('Paste from the certificate')).toBeFocused()
})
