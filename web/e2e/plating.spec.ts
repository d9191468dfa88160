import { expect, type Page, test } from '@playwright/test'
import { axeFindings } from './axe.ts'
import { HARBOUR, openHarbour } from './harbour.ts'

/** Searches run in workers; on a busy machine they take their time. */
const SOLVED = { timeout: 45_000 }

async function openLine(page: Page) {
  await page.goto(`/orders/${HARBOUR}/plating`)
  await expect(page.getByRole('img', { name: /Carriers over one cycle/ })).toBeVisible(SOLVED)
}
const line = (page: Page) => page.getByRole('region', { name: 'The line and its carrier' })
/** A rack every … min. */
const cycle = (page: Page) => line(page).locator('.facts-column .figure').first()
const moment = (page: Page) => page.getByLabel('Moment of the cycle')

test('from the nickel step of an order the line is reached, drawn, timed, and says what sets the pace', async ({
  page,
}) => {
  await openHarbour(page, 'nickel')
  await page.getByRole('link', { name: /Clean and plate/ }).click()
  await expect(page.getByRole('heading', { level: 1, name: /Clean and plate/ })).toBeVisible()
  await expect(page.getByText('The line keeps time:')).toBeVisible(SOLVED)
  await expect(page.getByRole('img', { name: 'The line from the side' })).toBeVisible()
  await expect(line(page).getByRole('row', { name: /Nickel.*sets the pace/ })).toBeVisible()
  await expect(line(page)).toContainText('at most 60 s (Tarnmoor bath sheet)')
  await expect(line(page)).toContainText('As the works file states them')
  // The figure of the page is the one of the plan: 7:22 min are 7.37 min.
  const [minutes, seconds] = ((await cycle(page).textContent()) ?? '').replace(' min', '').split(':').map(Number)
  const planned = page.getByRole('region', { name: 'Rectifiers and times' }).getByText(/^Cycle of the line/)
  const figure = Number((await planned.locator('xpath=..').locator('.setting-value').textContent())?.split(/\s/)[0])
  expect(Math.abs((minutes ?? 0) * 60 + (seconds ?? 0) - figure * 60)).toBeLessThanOrEqual(0.6)
  const remedy = line(page).getByRole('row', { name: /Nickel \(6\) one more tank/ })
  await expect(remedy).toBeVisible(SOLVED)
  const before = await cycle(page).textContent()
  await remedy.getByRole('button', { name: /Try/ }).click()
  await expect(cycle(page)).not.toHaveText(before ?? '', SOLVED)
})

test('the cycle is stepped and scrubbed with the keyboard alone, and words say where every rack is', async ({
  page,
}) => {
  await openLine(page)
  await page.getByRole('button', { name: 'Next move' }).focus()
  await page.keyboard.press('Enter')
  await expect(moment(page)).toHaveAttribute('aria-valuetext', /carrier 1 carries a rack from/)
  const first = await moment(page).getAttribute('aria-valuetext')
  await page.keyboard.press('Enter')
  await expect(moment(page)).not.toHaveAttribute('aria-valuetext', first ?? '')
  await page.getByRole('button', { name: 'Move before' }).press('Enter')
  await expect(moment(page)).toHaveAttribute('aria-valuetext', first ?? '')
  await moment(page).focus()
  await page.keyboard.press('Home')
  await expect(moment(page)).toHaveValue('0')
  await page.keyboard.press('ArrowRight')
  await expect(moment(page)).toHaveValue('1')
})

test('played, the cursor runs; stopped, it stays', async ({ page }) => {
  await openLine(page)
  await page.getByRole('button', { name: 'Play the cycle' }).press('Enter')
  await expect.poll(async () => Number(await moment(page).inputValue())).toBeGreaterThan(3)
  await page.getByRole('button', { name: 'Stop', exact: true }).press('Enter')
  await expect(page.getByRole('button', { name: 'Play the cycle' })).toBeVisible()
})

test('who asks for less motion steps through the moves; nothing runs by itself', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openLine(page)
  await expect(page.getByRole('button', { name: 'Play the cycle' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Next move' }).click()
  await expect(moment(page)).toHaveAttribute('aria-valuetext', /carrier 1 carries/)
})

test('a second carrier is tried: its own line, the gap said at every move, remedies worked out for both', async ({
  page,
}) => {
  await openLine(page)
  await page.getByLabel('Carriers', { exact: true }).fill('2')
  await expect(line(page)).toContainText('each carrier its own line', SOLVED)
  await page.getByRole('button', { name: 'Next move' }).click()
  await expect(moment(page)).toHaveAttribute(
    'aria-valuetext',
    /carrier 2 .* Apart: 1 to 2 [\d.]+ m; never under 1\.6 m/,
  )
  await expect(line(page).getByRole('row', { name: /Nickel \(6\) one more tank/ })).toBeVisible(SOLVED)
  await page.getByLabel(/Carriers keep apart/).fill('40')
  await expect(page.getByText('The line keeps time:')).toBeVisible(SOLVED)
})

test('bad figures of the line are named at their field: comma, negative, empty, absurd, contradiction', async ({
  page,
}) => {
  await openLine(page)
  const least = page.getByLabel('Least, station 1 Soak cleaner')
  await least.fill('310,5')
  await expect(page.getByRole('alert', { name: /keep(s)? the line/ })).toHaveCount(0)
  for (const bad of ['-5', '', '1e99', 'soon']) {
    await least.fill(bad)
    await expect(least).toHaveAttribute('aria-invalid', 'true')
    await expect(page.getByRole('alert', { name: 'One thing keeps the line from being timed' })).toBeVisible()
  }
  await least.fill('700')
  await expect(page.getByText('The longest soak is shorter than the shortest.').first()).toBeVisible(SOLVED)
  await page.getByRole('button', { name: /Back to the plan/ }).click()
  await expect(page.getByText('The line keeps time:')).toBeVisible(SOLVED)
})

test('thickness is drawn over the outline with its thinnest spot, and thieves are tried', async ({ page }) => {
  await page.goto(`/orders/${HARBOUR}/plating`)
  const part = page.getByRole('region', { name: 'Nickel over the outline' })
  const drawn = part.getByRole('img', { name: /Thickness of the nickel/ })
  await expect(drawn).toBeVisible(SOLVED)
  await expect(drawn).toContainText(/thinnest [\d.]+ µm/)
  await expect(part.getByRole('list', { name: 'Shades by thickness' }).getByRole('listitem')).toHaveCount(7)
  await part.getByLabel('thief rods at both ends').check()
  await expect(part.getByText('Goes to the thieves')).toBeVisible(SOLVED)
  await part.getByLabel(/Conductivity of the bath/).fill('-1')
  await expect(part.getByRole('alert', { name: 'The spread cannot be worked out' })).toBeVisible()
})

test('rinses, coatings, rectifiers and bake answer to what is typed', async ({ page }) => {
  await page.goto(`/orders/${HARBOUR}/plating`)
  const rinse = page.getByRole('region', { name: 'Rinse and waste water' })
  await expect(rinse).toContainText('2 rinses take', SOLVED)
  await rinse.getByLabel(/^Rinse tanks/).fill('3')
  await expect(rinse).toContainText('3 rinses take')
  await rinse.getByLabel(/^Concentration wanted/).fill('80')
  await expect(rinse).toContainText('nothing to rinse')
  const coating = page.getByRole('region', { name: 'Which coating' })
  await expect(coating).toContainText('Fe/Ni25d Cr mc')
  await coating.getByLabel('Service condition').selectOption('4')
  await expect(coating.locator('.designation')).not.toHaveText('Fe/Ni25d Cr mc')
  await expect(coating.getByRole('row', { name: /trivalent/ }).first()).toContainText('not known yet')
  await expect(page.getByRole('region', { name: 'Relief bake', exact: true })).toContainText('Time at temperature')
  for (const caution of ['Nickel salts', 'Trivalent chromium', 'Acid and hydrogen', 'Rectifier and gas over the bath'])
    await expect(page.getByRole('list', { name: 'Cautions' })).toContainText(caution)
})

const LOG = ['date;nickel g/L;boricAcid g/L;pH', '2026-01-05;72,5;44;4,1', '2026-01-12;63;41;4.3'].join('\n')

async function openLog(page: Page, content: string) {
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'Open a saved log' }).click()
  await (await chooser).setFiles({ name: 'log.csv', mimeType: 'text/csv', buffer: Buffer.from(content) })
}

test('an analysis is entered, held against limits, added to, saved and struck out', async ({ page }) => {
  await page.goto('/bath-log')
  await expect(page.getByText('The log is not stored anywhere')).toBeVisible(SOLVED)
  const entry = page.getByRole('form', { name: 'New analysis' })
  await entry.getByRole('button', { name: 'Enter the analysis' }).click()
  await expect(entry).toContainText('Nothing was analysed')
  await entry.getByLabel('Boric acid').fill('-4')
  await entry.getByRole('button', { name: 'Enter the analysis' }).click()
  await expect(entry.getByLabel('Boric acid')).toHaveAttribute('aria-invalid', 'true')
  await entry.getByLabel('Boric acid').fill('35,5')
  await entry.getByRole('button', { name: 'Enter the analysis' }).click()
  await expect(page.getByText('Boric acid under its limit', { exact: false })).toBeVisible()
  await expect(page.getByRole('region', { name: /To do after the analysis/ })).toContainText(
    /add 17\.1 kg of boric acid/,
  )
  const saved = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the log as CSV' }).click()
  expect((await saved).suggestedFilename()).toBe('bath-log-nickel.csv')
  await expect(page.getByText('saved as it stands')).toBeVisible()
  await page.getByRole('button', { name: /Strike out/ }).click()
  await expect(page.getByText('no analysis yet')).toBeVisible()
})

test('a saved log is opened; one that cannot be read takes nothing over and names every line', async ({ page }) => {
  await page.goto('/bath-log')
  await openLog(page, LOG)
  await expect(page.getByRole('img', { name: 'Nickel over time' })).toBeVisible()
  await expect(page.getByRole('row', { name: /2026-01-12/ })).toContainText('too low')
  await openLog(page, 'date;nickel g/L\n2026-01-05;much\n5 January;70')
  const issues = page.getByRole('alert', { name: /2 things in the file/ })
  for (const at of ['lines[2].nickel', 'lines[3].date']) await expect(issues).toContainText(at)
  await expect(page.getByText('2 analyses')).toBeVisible()
})

test('each bath has its own log, and who opens its address finds it', async ({ page }) => {
  await page.goto('/bath-log?bath=chromium(III)')
  await expect(page.getByRole('heading', { level: 1, name: /trivalent chromium/ })).toBeVisible(SOLVED)
  await expect(page.getByText('The log is not stored anywhere')).toBeVisible()
  await expect(page.getByRole('list', { name: 'Cautions' })).toContainText('Trivalent chromium')
  await expect(page.getByText('Tarnmoor bath sheet')).toBeVisible()
  const entry = page.getByRole('form', { name: 'New analysis' })
  await entry.getByLabel('Conducting salt').fill('150')
  await entry.getByRole('button', { name: 'Enter the analysis' }).click()
  await expect(page.getByRole('region', { name: /To do after the analysis/ })).toContainText('45 kg of conducting salt')
  await page.getByRole('navigation', { name: 'Baths' }).getByRole('link', { name: 'hexavalent chromium' }).click()
  await expect(page.getByRole('list', { name: 'Cautions' })).toContainText('Toxic and carcinogenic')
  await expect(entry.getByLabel('Sulfate')).toBeVisible()
  await page.getByRole('navigation', { name: 'Baths' }).getByRole('link', { name: 'trivalent chromium' }).click()
  await expect(page.getByText('one analysis')).toBeVisible()
})

test('axe finds nothing on the line', async ({ page }) => {
  test.slow() // every letter of the drawings is looked at
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openLine(page)
  await expect(page.getByRole('img', { name: /Thickness of the nickel/ })).toBeVisible(SOLVED)
  expect(await axeFindings(page)).toEqual([])
})

test('axe finds nothing on the bath log', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await page.goto('/bath-log')
  await openLog(page, LOG)
  await expect(page.getByRole('img', { name: 'Nickel over time' })).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
})

test('on a tablet nothing runs off the page, and what is pressed is large enough', async ({ browser }) => {
  const tablet = await browser.newContext({ viewport: { width: 1024, height: 768 }, hasTouch: true, isMobile: true })
  const page = await tablet.newPage()
  await openLine(page)
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(over).toBeLessThanOrEqual(0)
  for (const button of await page.getByRole('button').all())
    if (await button.isVisible()) expect((await button.boundingBox())?.height ?? 0).toBeGreaterThanOrEqual(48)
  await tablet.close()
})
