import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'

interface Violation {
  readonly id: string
  readonly at: readonly string[]
}

/** What axe finds on the page as it stands: all rules in light, and colours once more in the dark. */
export async function axeFindings(page: Page): Promise<Violation[]> {
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
  const light = await new AxeBuilder({ page }).analyze()
  await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' })
  const dark = await new AxeBuilder({ page }).withRules(['color-contrast', 'link-in-text-block']).analyze()
  return [...light.violations, ...dark.violations].map(({ id, nodes }) => ({
    id,
    at: nodes.map(({ target }) => String(target)),
  }))
}
