/** What each colour of a drawing means. A meaning never rests on its colour alone: hatching, position and words say it too. */
export interface Palette {
  readonly ink: string
  /** Dimension lines, hatching, notes. */
  readonly mid: string
  readonly hair: string
  readonly paper: string
  readonly sheet: string
  readonly holds: string
  readonly short: string
  readonly unknown: string
  readonly heat: string
}

/** The page's own colours: they follow its theme, dark and high contrast included. */
export const webPalette: Palette = {
  ink: 'var(--ink)',
  mid: 'var(--mid)',
  hair: 'var(--hair)',
  paper: 'var(--paper)',
  sheet: 'var(--sheet)',
  holds: 'var(--holds)',
  short: 'var(--short)',
  unknown: 'var(--unknown)',
  heat: 'var(--heat)',
}

/** Ink on white, for paper and for drawings that leave the page. */
export const printPalette: Palette = {
  ink: '#000000',
  mid: '#4a5156',
  hair: '#b4b8b6',
  paper: '#ffffff',
  sheet: '#ffffff',
  holds: '#35648c',
  short: '#c2441b',
  unknown: '#7c848a',
  heat: '#d59a2b',
}
