import { expect, type Page, test } from '@playwright/test'
import { axeFindings } from './axe.ts'

const figure = (page: Page, title: string) =>
  page.getByRole('region', { name: 'Figures of the mechanism' }).locator('.figure-cell').filter({ hasText: title })
const gateWidth = (page: Page) => page.getByRole('textbox', { name: 'Gate width' })

async function open(page: Page) {
  await page.goto('/designs/HB50')
  await page.getByRole('link', { name: /Mechanism/ }).click()
  await expect(page.getByRole('heading', { level: 1, name: /Mechanism of Harbour/ })).toBeVisible()
  await expect(figure(page, 'Separated codes')).toContainText('8')
}

test('the own key lines up all gates at its stop, and before it no gate', async ({ page }) => {
  await open(page)
  await expect(page.getByRole('img', { name: /cut across/ })).toBeVisible()
  await expect(page.getByText('All 9 gates stand in line')).toBeVisible()
  const slider = page.getByRole('slider', { name: 'Key turned by' })
  await slider.focus()
  await page.keyboard.press('Home')
  await expect(page.getByText('No gate stands under the sidebar.')).toBeVisible()
  await expect(slider).toHaveAttribute('aria-valuetext', /^0\.0°/)
  await page.keyboard.press('ArrowRight')
  await expect(page.locator('.key-turn output')).toHaveText('0.5°')
})

test('another key leaves a disc in the way, and the chance that it opens follows', async ({ page }) => {
  await open(page)
  await expect(figure(page, 'Chosen key, rocked')).toContainText('99.999')
  await page.getByRole('button', { name: 'Disc 3, a step more' }).click()
  await expect(page.getByText('Disc 3 holds the sidebar out')).toBeVisible()
  await expect(figure(page, 'Chosen key, rocked')).toContainText('10⁻')
  await page.getByRole('button', { name: 'Draw disc 3' }).click()
  await expect(page.getByRole('img', { name: /cut across/ })).toHaveAccessibleName(/disc 3 stands 15\.0°/)
  await page.getByRole('button', { name: 'Own key' }).click()
  await expect(page.getByText('All 9 gates stand in line')).toBeVisible()
})

test('the key turns by itself, and at once where the system asks for less motion', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page)
  await page.getByRole('slider').fill('10')
  await page.getByRole('button', { name: 'Turn the key' }).click()
  await expect(page.locator('.key-turn output')).toHaveText('90.0°')
  await page.emulateMedia({ reducedMotion: 'no-preference' })
  await page.getByRole('button', { name: 'Turn the key' }).click()
  await expect(page.getByRole('button', { name: 'Stop' })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Turn the key' })).toBeVisible({ timeout: 10_000 })
  await expect(page.getByText('All 9 gates stand in line')).toBeVisible()
})

test('a wider gate needs a separation rule; a remedy tried makes it unnecessary; reset brings back what is stored', async ({
  page,
}) => {
  await open(page)
  await gateWidth(page).fill('2,6')
  await expect(figure(page, 'Separated codes')).toContainText('rule:')
  await expect(page.getByText('holds under a separation rule')).toBeVisible()
  const remedies = page.getByRole('region', { name: 'What would win codes' })
  await expect(remedies.getByRole('row').nth(1)).toBeVisible()
  await remedies.getByRole('button', { name: /Try it.*Narrow the gate/ }).click()
  await expect(figure(page, 'Separated codes')).toContainText('all usable codes keep apart')
  await expect(gateWidth(page)).not.toHaveValue('2,6')
  await page.getByRole('button', { name: 'Reset' }).click()
  await expect(gateWidth(page)).toHaveValue('2.25')
  await expect(page.getByText('As stored.')).toBeVisible()
})

test('the opening figures follow a tolerance by the next frame', async ({ page }) => {
  await open(page)
  const before = await figure(page, 'Nearest other key').textContent()
  const after = await gateWidth(page).evaluate(async (field: HTMLInputElement) => {
    const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')?.set
    set?.call(field, '2.3')
    field.dispatchEvent(new Event('input', { bubbles: true }))
    await new Promise((resolve) => requestAnimationFrame(resolve))
    return [...document.querySelectorAll<HTMLElement>('.figure-cell')].map(({ textContent }) => textContent)
  })
  expect(after.find((text) => text?.startsWith('Nearest other key'))).not.toBe(before)
})

test('a bad figure says so at its field, and the rest keeps the last that could be read', async ({ page }) => {
  await open(page)
  const before = await figure(page, 'Nearest other key').textContent()
  await gateWidth(page).fill('wide')
  await expect(page.getByText(/must be a number/)).toBeVisible()
  expect(await figure(page, 'Nearest other key').textContent()).toBe(before)
  await expect(page.getByRole('button', { name: 'Save as new revision' })).toBeDisabled()
})

test('axe finds nothing on the mechanism, its remedies open', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await open(page)
  await gateWidth(page).fill('2.6')
  await page.getByRole('button', { name: 'Disc 2, a step less' }).click()
  await expect(page.getByRole('button', { name: /Try it/ }).first()).toBeVisible()
  expect(await axeFindings(page)).toEqual([])
})

test('on a tablet nothing runs off the page and targets are large', async ({ browser, baseURL }) => {
  const context = await browser.newContext({
    viewport: { width: 810, height: 1080 },
    hasTouch: true,
    isMobile: true,
    ...(baseURL === undefined ? {} : { baseURL }),
  })
  const page = await context.newPage()
  for (const path of ['/designs/HB50/mechanism', '/codes', '/codes/charts']) {
    await page.goto(path)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(over, path).toBeLessThanOrEqual(0)
  }
  await page.goto('/designs/HB50/mechanism')
  expect((await page.getByRole('button', { name: 'Turn the key' }).boundingBox())?.height).toBeGreaterThanOrEqual(48)
  await context.close()
})
