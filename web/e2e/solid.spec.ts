import { expect, type Page, test } from '@playwright/test'
import { axeFindings } from './axe.ts'
import { HARBOUR, openHarbour } from './harbour.ts'

/** The first look at a design builds its solid on the server. */
const BUILT = { timeout: 110_000 }

const picture = (page: Page) => page.getByRole('img', { name: /^Harbour 50 from/ })

async function openSolid(page: Page) {
  await page.goto('/designs/HB50/solid')
  await expect(page.getByRole('heading', { level: 1, name: /Solid of Harbour/ })).toBeVisible()
  await expect(picture(page)).toBeVisible(BUILT)
}

/** How many points of the picture are drawn on: a canvas that shows nothing has none. */
const inkOf = async (page: Page) => (await picture(page).screenshot()).byteLength

test('a design leads to its solid, which is turned by keys and by named views', async ({ page }) => {
  await page.goto('/designs/HB50')
  await page.getByRole('link', { name: /^Solid/ }).click()
  await expect(picture(page)).toHaveAccessibleName(/left and above, locked, front taken away up to the middle/, BUILT)
  await page.getByRole('button', { name: 'Front', exact: true }).click()
  await expect(picture(page)).toHaveAccessibleName(/from the front, locked/)
  await picture(page).focus()
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowDown')
  await expect(picture(page)).toHaveAccessibleName(/from 10° left of the front, 10° above/)
  await page.keyboard.press('0')
  await expect(picture(page)).toHaveAccessibleName(/left and above/)
})

test('the lock opens step by step, and at once where the system asks for less motion', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openSolid(page)
  const slider = page.getByRole('slider', { name: 'From locked to open' })
  await expect(slider).toHaveAttribute('aria-valuetext', 'locked')
  await page.getByRole('button', { name: 'Open it' }).click()
  await expect(slider).toHaveAttribute('aria-valuetext', 'open')
  await page.getByRole('button', { name: 'sidebar dropped' }).click()
  await expect(picture(page)).toHaveAccessibleName(/sidebar dropped/)
  await slider.focus()
  await page.keyboard.press('ArrowRight')
  await expect(slider).toHaveAttribute('aria-valuetext', 'between sidebar dropped and released')
  await page.emulateMedia({ reducedMotion: 'no-preference' })
  await page.getByRole('button', { name: 'Open it' }).click()
  await expect(slider).toHaveAttribute('aria-valuetext', 'open', { timeout: 60_000 })
})

test('the cut moves, is left out and comes back; parts are hidden and marked, and the picture follows', async ({
  page,
}) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openSolid(page)
  const cut = await inkOf(page)
  await page.getByRole('slider', { name: 'Place of the cut' }).fill('4')
  await expect(picture(page)).toHaveAccessibleName(/up to 4\.0 mm behind the middle/)
  await page.getByRole('combobox', { name: /^Cut/ }).selectOption('not cut')
  await expect(page.getByRole('slider', { name: 'Place of the cut' })).toHaveCount(0)
  const whole = await inkOf(page)
  expect(whole).toBeLessThan(cut) // hatching takes more to store than plain faces
  await page.getByRole('button', { name: 'Without the body' }).click()
  await expect(page.getByText('22 of 24 parts shown.')).toBeVisible()
  await page.getByRole('button', { name: 'Mark Ball, toe side' }).click()
  await expect(page.getByText(/Ball, toe side stands out/)).toBeVisible()
  await page.getByRole('checkbox', { name: /^Shackle/ }).uncheck()
  await expect(page.getByText('21 of 24 parts shown.')).toBeVisible()
  expect(await inkOf(page)).not.toBe(whole)
  await page.getByRole('button', { name: 'Show all' }).click()
  await expect(page.getByText('All 24 parts shown.')).toBeVisible()
})

test('what the solid says stands in words: mass, walls, and that nothing shares room in any state', async ({
  page,
}) => {
  await openSolid(page)
  const says = page.getByRole('region', { name: 'What the solid says' })
  await expect(says.getByRole('row', { name: /^Shackle, finished sizes/ })).toContainText('42CrMo4', BUILT)
  await expect(says.getByText('no two parts share room')).toHaveCount(5)
  await expect(picture(page)).toHaveAccessibleName(/Mass .* g without 19 parts .* thinnest wall .* mm/)
})

test('plated areas stand by face, for a lock and for a rack of the works; gaps stand pair by pair in every state', async ({
  page,
}) => {
  await openSolid(page)
  const says = page.getByRole('region', { name: 'What the solid says' })
  const plated = says.getByRole('region', { name: 'Plated area, by part and by rack' })
  await expect(plated.getByRole('columnheader', { name: /^Rack of 30 locks, dm²/ })).toBeVisible(BUILT)
  await expect(plated.getByRole('row', { name: /^What the baths of a plan reckon with/ })).toContainText('1.639')
  await expect(plated).toContainText('chromium(III): 491.6 A')
  await says.getByText('What touches and what clears').click()
  const gaps = says.getByRole('table', { name: 'What touches and what clears' })
  await expect(gaps.getByRole('row', { name: /^Shackle – Ball, toe side/ }).getByRole('cell')).toHaveText([
    '0.114 mm',
    '0.114 mm',
    '0.114 mm',
    'apart',
    'apart',
  ])
  await expect(
    gaps
      .getByRole('row', { name: /^Body – Barrel/ })
      .getByRole('cell')
      .first(),
  ).toHaveText('touch')
})

test('the outline of the lock stands there until its solid is fetched', async ({ page }) => {
  let release = () => {}
  const held = new Promise<void>((resolve) => {
    release = resolve
  })
  await page.route('**/solids/mesh', async (route) => {
    await held
    await route.continue()
  })
  await page.goto('/designs/HB50/solid')
  await expect(page.getByRole('status').filter({ hasText: 'Building the solid' })).toBeVisible()
  await expect(page.locator('.solid-ahead svg')).toBeVisible()
  release()
  await expect(picture(page)).toBeVisible(BUILT)
  await expect(page.locator('.solid-ahead')).toHaveCount(0)
})

for (const [width, height] of [
  [1280, 800],
  [1440, 900],
  [810, 1080],
] as const)
  test(`the lock fills its picture at ${width} × ${height}, locked and open`, async ({ page }) => {
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await openSolid(page)
    for (const state of ['locked', 'open']) {
      await page.getByRole('button', { name: state, exact: true }).click()
      await expect.poll(() => filledShare(page)).toBeGreaterThan(0.7)
      expect(await filledShare(page)).toBeLessThan(0.95)
    }
  })

/** How much of the smaller side of the picture is taken, from the first to the last row that is drawn on. */
async function filledShare(page: Page): Promise<number> {
  const shot = (await picture(page).screenshot()).toString('base64')
  return page.evaluate(async (png) => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(png), (each) => each.charCodeAt(0))]))
    const context = new OffscreenCanvas(image.width, image.height).getContext('2d')
    if (context === null) throw new Error('no picture can be read')
    context.drawImage(image, 0, 0)
    const { data } = context.getImageData(0, 0, image.width, image.height)
    const row = 4 * image.width
    const isDrawn = (y: number) => {
      for (let i = y * row; i < (y + 1) * row; i++) if (Math.abs((data[i] ?? 0) - (data[i % 4] ?? 0)) > 24) return true
      return false
    }
    const rows = Array.from({ length: image.height }, (_, y) => y).filter(isDrawn)
    return ((rows.at(-1) ?? 0) - (rows[0] ?? 0)) / Math.min(image.width, image.height)
  }, shot)
}

test('drawings are listed with their sizes when asked for, and downloaded by name', async ({ page }) => {
  await openSolid(page)
  await page.getByText('DXF, drawings').click()
  const files = page.getByRole('list', { name: 'DXF, drawings' })
  await expect(files.getByRole('listitem').filter({ hasText: 'HB50-body.dxf' })).toContainText('kB', BUILT)
  const download = page.waitForEvent('download')
  await files.getByRole('link', { name: /^Body/ }).first().click()
  expect((await download).suggestedFilename()).toMatch(/^HB50-.*\.dxf$/)
})

test('where the browser draws nothing in three dimensions, words and drawings stand in', async ({ page }) => {
  await page.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = () => null
  })
  await page.goto('/designs/HB50/solid')
  await expect(page.getByText(/draws nothing in three dimensions/)).toBeVisible(BUILT)
  await expect(page.getByRole('tablist', { name: 'Drawings' })).toBeVisible()
})

test('drilling, bending and notching lead to the solid; drilling and notching hand out their program', async ({
  page,
}) => {
  for (const [station, hasProgram] of [
    ['drill-body', true],
    ['bend-shackle', false],
    ['notch-shackle', true],
  ] as const) {
    await openHarbour(page, station)
    await expect(page.getByRole('link', { name: /^Solid/ })).toHaveAttribute('href', '/designs/HB50/solid')
    const program = page.getByRole('article').getByRole('link', { name: /^Machine program/ })
    if (hasProgram) await expect(program).toContainText('kB', BUILT)
    else await expect(program).toHaveCount(0)
  }
  await openHarbour(page, 'close')
  await expect(page.getByRole('link', { name: /^Solid/ })).toHaveCount(0)
})

test('the bars of an order say what goes back to the rack, in the drawing and beside it', async ({ page }) => {
  await openHarbour(page, 'cut-bar')
  const bars = page.getByRole('region', { name: 'Bars, all lines of the order together' })
  await expect(bars.getByText(/Back to the rack:/).first()).toBeVisible()
  await expect(bars.getByRole('img').first()).toContainText('back to the rack')
})

test('axe finds nothing on the solid with a list of files open', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await openSolid(page)
  await page.getByText('SVG, drawings').click()
  await expect(page.getByRole('list', { name: 'SVG, drawings' })).toBeVisible(BUILT)
  await expect(page.getByText('no two parts share room').first()).toBeVisible(BUILT)
  expect(await axeFindings(page)).toEqual([])
})

test('on a tablet the solid fits the page, and what is pressed is large', async ({ browser, baseURL }) => {
  const context = await browser.newContext({
    viewport: { width: 810, height: 1080 },
    hasTouch: true,
    isMobile: true,
    ...(baseURL === undefined ? {} : { baseURL }),
  })
  const page = await context.newPage()
  await openSolid(page)
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
  expect(over).toBeLessThanOrEqual(0)
  for (const name of ['Open it', 'Front', 'Show all'])
    expect((await page.getByRole('button', { name, exact: true }).boundingBox())?.height).toBeGreaterThanOrEqual(48)
  await page.goto(`/orders/${HARBOUR}?station=drill-body`)
  expect((await page.getByRole('link', { name: /^Solid/ }).boundingBox())?.height).toBeGreaterThanOrEqual(48)
  await context.close()
})
