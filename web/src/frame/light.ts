/** Light or dark: as the system asks, unless this reader chose. The choice is theirs alone and stays in this browser. */
export type Light = 'system' | 'light' | 'dark'

const KEY = 'haspwright.light'

export function chosenLight(): Light {
  const kept = safely(() => localStorage.getItem(KEY))
  return kept === 'light' || kept === 'dark' ? kept : 'system'
}

export function chooseLight(light: Light): void {
  safely(() => (light === 'system' ? localStorage.removeItem(KEY) : localStorage.setItem(KEY, light)))
  applyLight(light)
}

export function applyLight(light: Light): void {
  if (light === 'system') document.documentElement.removeAttribute('data-light')
  else document.documentElement.dataset['light'] = light
}

/** A browser may forbid storage altogether; the page then follows the system. */
function safely<T>(use: () => T): T | undefined {
  try {
    return use()
  } catch {
    return undefined
  }
}
