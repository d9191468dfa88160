/** Sizes of type on a sheet, from baseline to baseline; capitals and figures of its faces are 0.7 of it tall. */
export interface Lettering {
  /** Words, deviations, everything that is no dimension. */
  readonly note: number
  /** Figures of dimensions. */
  readonly figure: number
  readonly heading: number
}

/** Deviations of a dimension against its figure: they are written as notes are. */
export const DEVIATION_SHARE = 0.9

/**
 * The type of a sheet. Capitals are 2.5 mm tall at least, as the series of ISO 3098-1 begins (from memory, unverified); on sheets wider
 * than A4 they are taller, because such a sheet is also read whole on a screen.
 */
export function letteringOf({ width }: { readonly width: number }): Lettering {
  return width > WIDE ? { note: 3.96, figure: 4.4, heading: 5.4 } : { note: 3.6, figure: 4, heading: 5 }
}

/** Wider than A4 on its side, mm. */
const WIDE = 300
