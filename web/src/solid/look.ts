/** Colours of the 3D view as the page's style sheet gives them, for its light and contrast. */
export interface Look {
  readonly ink: string
  /** Lines of cut faces, lighter than edges. */
  readonly hatch: string
  readonly sheet: string
  readonly steel: string
  readonly brass: string
  readonly plain: string
  /** Surfaces without shading, for high contrast: lines and hatching alone tell. */
  readonly flat: boolean
}

const COLOURS = ['ink', 'hatch', 'sheet', 'steel', 'brass', 'plain'] as const

/** Reads the colours where the view stands: the browser works out light, dark and contrast. */
export function lookOf(place: HTMLElement): Look {
  const probe = document.createElement('i')
  place.append(probe)
  const colour = (name: (typeof COLOURS)[number]) => {
    probe.style.color = `var(--solid-${name})`
    return getComputedStyle(probe).color
  }
  const [ink, hatch, sheet, steel, brass, plain] = COLOURS.map(colour)
  probe.remove()
  const flat = matchMedia('(prefers-contrast: more)').matches
  const black = 'rgb(0, 0, 0)'
  return {
    ink: ink ?? black,
    hatch: hatch ?? black,
    sheet: sheet ?? black,
    steel: steel ?? black,
    brass: brass ?? black,
    plain: plain ?? black,
    flat,
  }
}

/** Calls back when the page's light or contrast changes. @returns how to stop it */
export function watchLook(changed: () => void): () => void {
  const media = ['(prefers-color-scheme: dark)', '(prefers-contrast: more)'].map((query) => matchMedia(query))
  for (const each of media) each.addEventListener('change', changed)
  const observer = new MutationObserver(changed)
  observer.observe(document.documentElement, { attributes: true, attributeFilter: ['data-light'] })
  return () => {
    for (const each of media) each.removeEventListener('change', changed)
    observer.disconnect()
  }
}
