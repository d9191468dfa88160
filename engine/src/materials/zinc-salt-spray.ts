import { source } from '../source.ts'

export const iso4042SaltSpray = source({
  id: 'iso-4042.annex-b-zinc',
  status: 'standard',
  citation:
    'ISO 4042:1999, annex B, table B.1, neutral salt spray of zinc with chromate treatment, as reprinted in public',
  place: 'rows 5, 8 and 12 µm, column of red rust for zinc',
  note: 'The chromate classes of that edition are hexavalent; trivalent passivates with a sealer are sold to like hours, which is not stated there.',
})

/** Hours in neutral salt spray until red rust, by least zinc in µm and chromate class: A clear, B bleached, C iridescent, D opaque. */
export const ZINC_ROWS: readonly {
  readonly um: number
  readonly chromate: 'A' | 'B' | 'C' | 'D'
  readonly whiteHours: number
  readonly redHours: number
}[] = [
  { um: 5, chromate: 'A', whiteHours: 6, redHours: 24 },
  { um: 5, chromate: 'B', whiteHours: 12, redHours: 36 },
  { um: 5, chromate: 'C', whiteHours: 48, redHours: 72 },
  { um: 5, chromate: 'D', whiteHours: 72, redHours: 96 },
  { um: 8, chromate: 'A', whiteHours: 6, redHours: 48 },
  { um: 8, chromate: 'B', whiteHours: 24, redHours: 72 },
  { um: 8, chromate: 'C', whiteHours: 72, redHours: 120 },
  { um: 8, chromate: 'D', whiteHours: 96, redHours: 144 },
  { um: 12, chromate: 'A', whiteHours: 6, redHours: 72 },
  { um: 12, chromate: 'B', whiteHours: 24, redHours: 96 },
  { um: 12, chromate: 'C', whiteHours: 72, redHours: 144 },
  { um: 12, chromate: 'D', whiteHours: 96, redHours: 168 },
]
