import { type Source, source } from '../source.ts'
import { card41Cr4, card42CrMo4, cardC45E, cardX20Cr13, cardX30Cr13 } from './steel-sources.ts'
import type { SteelName } from './steels.ts'

/** An impact energy that was read, with the temperature of the test. Nothing here is interpolated or carried to another temperature. */
export interface ImpactFigure {
  /** A card's measured value, the least a delivery must have, or a figure of another steel. */
  readonly kind: 'measured' | 'least on delivery' | 'another steel'
  readonly kvJ: number
  /** Where a range was read. */
  readonly kvHighJ?: number
  readonly testedAtC: number
  /** Tempering temperature it belongs to. */
  readonly temperC?: number
  readonly condition: string
  readonly source: Source
}

export const coldReferenceSpecimens = source({
  id: 'paper.charpy-reference-4340',
  status: 'paper',
  citation:
    'Lucon and Santoyo, Impact toughness modification of low-energy Charpy verification specimens for testing at room temperature (abstract)',
  note: 'AISI 4340 of at least 44 HRC takes 13 to 20 J at −40 °C; hardened to above 49 HRC it takes as little at 21 °C. Another steel, chosen for low energy.',
})

const card41Cr4Kv: readonly (readonly [temperC: number, kvJ: number])[] = [
  [150, 16],
  [200, 24],
  [250, 24],
  [300, 15],
  [350, 15],
  [400, 26],
  [450, 30],
  [500, 38],
  [550, 46],
  [600, 90],
  [650, 124],
  [700, 132],
]
const delivered = (kvJ: number, condition: string, from: Source): ImpactFigure => ({
  kind: 'least on delivery',
  kvJ,
  testedAtC: 20,
  condition,
  source: from,
})

/** What was read of each steel; a steel that is not named has no figure here. */
export const impactFigures: Readonly<Partial<Record<SteelName, readonly ImpactFigure[]>>> = {
  '41Cr4': [
    ...card41Cr4Kv.map(
      ([temperC, kvJ]): ImpactFigure => ({
        kind: 'measured',
        kvJ,
        testedAtC: 20,
        temperC,
        condition: `10 mm round, oil from 850 °C, tempered at ${temperC} °C`,
        source: card41Cr4,
      }),
    ),
    delivered(35, 'quenched and tempered, 900–1100 MPa, rounds over 16 to 40 mm', card41Cr4),
  ],
  '42CrMo4': [delivered(35, 'quenched and tempered, 1000–1200 MPa, rounds over 16 to 40 mm', card42CrMo4)],
  C45E: [delivered(25, 'quenched and tempered, 650–800 MPa, rounds over 16 to 40 mm', cardC45E)],
  X20Cr13: [
    delivered(25, 'quenched and tempered to 700–850 MPa', cardX20Cr13),
    delivered(20, 'quenched and tempered to 800–950 MPa', cardX20Cr13),
  ],
  X30Cr13: [delivered(12, 'quenched and tempered to 850–1000 MPa', cardX30Cr13)],
}

/** The only figure read at −40 °C; of another steel, shown as a warning and never taken for ours. */
export const coldWarning: ImpactFigure = {
  kind: 'another steel',
  kvJ: 13,
  kvHighJ: 20,
  testedAtC: -40,
  condition: 'AISI 4340, at least 44 HRC, reference specimens of low energy',
  source: coldReferenceSpecimens,
}
