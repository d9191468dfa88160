import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'

interface Violation {
  readonly id: string
  readonly at: readonly string[]
}

const COLOURS = ['color-contrast', 'link-in-text-block']

/** What axe finds on the page as it stands: all rules in light, and colours once more in the dark. */
export async function axeFindings(page: Page): Promise<Violation[]> {
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
  const light = await violationsOf(page)
  await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' })
  return [...light, ...(await violationsOf(page, COLOURS))]
}

/** What axe finds in the colours that the page has now. @param rules all, unless told otherwise */
export async function violationsOf(page: Page, rules?: string[]): Promise<Violation[]> {
  // Only what is wrong is written out, in the page itself: to describe all that is right takes longer than to look at it.
  const axe = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode()
  const { violations } = await (rules === undefined ? axe : axe.withRules(rules)).analyze()
  return violations.map(({ id, nodes }) => ({ id, at: nodes.map(({ target }) => String(target)) }))
}
