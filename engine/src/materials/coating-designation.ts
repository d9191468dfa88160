/** The parts of a designation of nickel, or nickel and chromium, on a base metal. */
export interface Coating {
  readonly base: (typeof BASES)[number]
  readonly nickelUm: number
  readonly nickel: (typeof NICKEL_TYPES)[number]
  /** Absent where the nickel is the last layer; `um` only where it is not the usual 0.3 µm. */
  readonly chromium?: { readonly type: (typeof CHROMIUM_TYPES)[number]; readonly um?: number }
}

const BASES = ['Fe', 'Zn', 'Cu', 'Al'] as const
const NICKEL_TYPES = ['b', 'd', 'p', 's'] as const
const CHROMIUM_TYPES = ['r', 'mc', 'mp'] as const
const USUAL_CHROMIUM_UM = 0.3

/** `Fe/Ni30d Cr mc`; a chromium thickness other than 0.3 µm stands before its type: `Cr 0.5 r`. */
export function writeDesignation({ base, nickelUm, nickel, chromium }: Coating): string {
  const onTop = chromium === undefined ? '' : ` Cr ${writtenUm(chromium.um)}${chromium.type}`
  return `${base}/Ni${nickelUm}${nickel}${onTop}`
}

const writtenUm = (um: number | undefined) => (um === undefined || um === USUAL_CHROMIUM_UM ? '' : `${um} `)

const FORM = /^([A-Z][a-z])\/Ni(\d{1,3}(?:\.\d{1,3})?)([a-z])(?: ?Cr ?(?:(\d{1,2}(?:\.\d{1,3})?) ?)?(mc|mp|[a-z]+))?$/

/** Reads a designation, spaces more or less; says what does not fit. */
export function parseDesignation(
  written: string,
): { readonly ok: true; readonly coating: Coating } | { readonly ok: false; readonly because: string } {
  const found = FORM.exec(written.trim().replace(/\s+/g, ' '))
  if (found === null)
    return { ok: false, because: 'This is not read as a designation of nickel and chromium on a base.' }
  const [, givenBase, givenUm, givenNickel, givenChromiumUm, givenChromium] = found
  const base = BASES.find((known) => known === givenBase)
  const nickel = NICKEL_TYPES.find((known) => known === givenNickel)
  const chromium = CHROMIUM_TYPES.find((known) => known === givenChromium)
  const nickelUm = Number(givenUm)
  if (base === undefined) return { ok: false, because: `No base metal is written "${givenBase}": ${BASES.join(', ')}.` }
  if (nickel === undefined)
    return { ok: false, because: `No type of nickel is written "${givenNickel}": ${NICKEL_TYPES.join(', ')}.` }
  if (nickelUm === 0) return { ok: false, because: 'Nickel of no thickness is no coating.' }
  if (givenChromium === undefined) return { ok: true, coating: { base, nickelUm, nickel } }
  if (chromium === undefined)
    return { ok: false, because: `No type of chromium is written "${givenChromium}": ${CHROMIUM_TYPES.join(', ')}.` }
  if (givenChromiumUm === undefined)
    return { ok: true, coating: { base, nickelUm, nickel, chromium: { type: chromium } } }
  const um = Number(givenChromiumUm)
  if (um === 0) return { ok: false, because: 'Chromium of no thickness is no layer: leave it out.' }
  return {
    ok: true,
    coating: { base, nickelUm, nickel, chromium: { type: chromium, ...(um === USUAL_CHROMIUM_UM ? {} : { um }) } },
  }
}
