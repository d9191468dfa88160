import { source } from '../source.ts'

/** Nickel plus chromium on steel by how hard the service is. ISO 1456 has a table of its own, which was not seen. */
export const b456Seen = source({
  id: 'astm-b456.coatings-on-steel',
  status: 'standard',
  citation:
    'ASTM B456, nickel plus chromium on steel by service condition, as reprinted in a surface finishing guidebook',
  place: 'rows of service conditions 5, 4 and the first of 3; semi-bright share of double-layer nickel',
  note: 'The page read is cut off within service condition 3, and prints 40 µm for microporous chromium in condition 4 where 30 µm is recalled.',
})

export const b456Chromium = source({
  id: 'astm-b456.chromium-thickness',
  status: 'standard',
  citation:
    'ASTM B456-03, thickness of the chromium: 0.25 µm at least, 0.13 µm allowed in service condition 1, 0.3 µm unless said otherwise',
  note: 'Read in a public extract.',
})

export const b456Remembered = source({
  id: 'astm-b456.rows-remembered',
  status: 'from memory (unverified)',
  citation: 'ASTM B456, nickel plus chromium on steel, service conditions 1 and 2 and further rows of 3 and 4',
})

export const SERVICE_CONDITIONS = ['1', '2', '3', '4', '5'] as const
export type ServiceCondition = (typeof SERVICE_CONDITIONS)[number]

export const SERVICE_TITLES: Readonly<Record<ServiceCondition, string>> = {
  1: 'Mild: indoors, dry and warm',
  2: 'Moderate: indoors where it may turn wet',
  3: 'Severe: outdoors, rain and dew',
  4: 'Very severe: outdoors with wear or strong corrosion',
  5: 'Extended very severe: long life in such service',
}

export const CHROMIUM_KINDS = ['regular', 'microcracked', 'microporous'] as const
type ChromiumKind = (typeof CHROMIUM_KINDS)[number]
const CHROMIUM_SYMBOL: Readonly<Record<ChromiumKind, string>> = { regular: 'r', microcracked: 'mc', microporous: 'mp' }

export const NICKEL_KINDS = ['bright', 'double-layer'] as const
type NickelKind = (typeof NICKEL_KINDS)[number]
const NICKEL_SYMBOL: Readonly<Record<NickelKind, string>> = { bright: 'b', 'double-layer': 'd' }

export interface CoatingRow {
  readonly condition: ServiceCondition
  readonly nickelUm: number
  readonly nickel: NickelKind
  readonly chromium: ChromiumKind
  /** Whether the row itself was read, or is recalled. */
  readonly seen: boolean
}

const row = (
  condition: ServiceCondition,
  nickelUm: number,
  nickel: NickelKind,
  chromium: ChromiumKind,
  read: 'seen' | 'remembered',
): CoatingRow => ({ condition, nickelUm, nickel, chromium, seen: read === 'seen' })

export const COATING_ROWS: readonly CoatingRow[] = [
  row('5', 35, 'double-layer', 'microcracked', 'seen'),
  row('5', 35, 'double-layer', 'microporous', 'seen'),
  row('4', 40, 'double-layer', 'regular', 'seen'),
  row('4', 30, 'double-layer', 'microcracked', 'seen'),
  row('4', 30, 'double-layer', 'microporous', 'remembered'),
  row('3', 30, 'double-layer', 'regular', 'seen'),
  row('3', 25, 'double-layer', 'microcracked', 'seen'),
  row('3', 25, 'double-layer', 'microporous', 'remembered'),
  row('2', 20, 'bright', 'regular', 'remembered'),
  row('2', 15, 'bright', 'microcracked', 'remembered'),
  row('2', 15, 'bright', 'microporous', 'remembered'),
  row('1', 10, 'bright', 'regular', 'remembered'),
]

/** Chromium unless the designation says otherwise, and the least that is allowed, in µm (ASTM B456-03). */
export const CHROMIUM_UM = 0.3
export const leastChromiumUm = (condition: ServiceCondition) => (condition === '1' ? 0.13 : 0.25)

/** Share of a double-layer nickel on steel that must be semi-bright, in percent. */
export const SEMI_BRIGHT_PERCENT = 60

/** `Fe/Ni30d Cr r`, as the standard writes a coating on steel. */
export function designation({ nickelUm, nickel, chromium }: CoatingRow): string {
  return `Fe/Ni${nickelUm}${NICKEL_SYMBOL[nickel]} Cr ${CHROMIUM_SYMBOL[chromium]}`
}
