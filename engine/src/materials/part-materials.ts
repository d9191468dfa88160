import { choice } from '../quantity.ts'
import { type Source, source } from '../source.ts'
import type { CutMaterial } from './cutting-data.ts'
import { expansions } from './expansion.ts'
import { STEEL_KG_PER_M3 } from './heat-properties.ts'

const bearingSteelSheet = source({
  id: 'sheet.100cr6-expansion',
  status: 'handbook',
  citation: 'Data sheet of bearing steel SAE 52100 (100Cr6), thermal properties: 11.9 µm/(m·K), 23 to 280 °C, annealed',
})
const sheet41Cr4 = source({
  id: 'sheet.41cr4-expansion',
  status: 'handbook',
  citation: 'Data sheet of heat-treatable steel 41Cr4 (1.7035), physical properties: 11.3 · 10⁻⁶ per K, 0 to 50 °C',
})

/** CuZn39Pb3 by a stockist's data sheet of CW614N bar, 8.47 g/cm³; CuZn36Pb3 taken as the same, from memory (unverified). */
const BRASS_KG_PER_M3 = 8470
/** From memory (unverified). */
const ZINC_CASTING_KG_PER_M3 = 6700

/** A material a lock part may be made of, by the name its drawing carries. */
export interface PartMaterial {
  readonly title: string
  readonly expansionPerK: number
  readonly densityKgPerM3: number
  readonly source: Source
  /** Which class of cutting data it is drilled and sawn by, as bought. */
  readonly cutting?: CutMaterial
  readonly note?: string
}

const like = (
  material: keyof typeof expansions,
  title: string,
  rest: { cutting?: CutMaterial; note?: string; densityKgPerM3?: number } = {},
): PartMaterial => ({
  title,
  densityKgPerM3: STEEL_KG_PER_M3,
  expansionPerK: expansions[material].perK,
  source: expansions[material].source,
  ...rest,
})

export const PART_MATERIALS = [
  'C45E',
  '42CrMo4',
  '34CrMo4',
  '41Cr4',
  '100Cr6',
  'CuZn39Pb3',
  'CuZn36Pb3',
  'ZP0410',
] as const
export type PartMaterialName = (typeof PART_MATERIALS)[number]

export const partMaterials: Readonly<Record<PartMaterialName, PartMaterial>> = {
  C45E: like('steel-1045', 'Carbon steel C45E', { cutting: 'medium-carbon-steel' }),
  '42CrMo4': like('steel-4140', 'Chromium-molybdenum steel 42CrMo4', { cutting: 'low-alloy-steel' }),
  '34CrMo4': like('steel-4140', 'Chromium-molybdenum steel 34CrMo4', {
    cutting: 'low-alloy-steel',
    note: 'taken as 4140, its near relative',
  }),
  '41Cr4': {
    title: 'Chromium steel 41Cr4',
    expansionPerK: 11.3e-6,
    densityKgPerM3: STEEL_KG_PER_M3,
    source: sheet41Cr4,
    cutting: 'low-alloy-steel',
  },
  '100Cr6': {
    title: 'Bearing steel 100Cr6',
    expansionPerK: 11.9e-6,
    densityKgPerM3: STEEL_KG_PER_M3,
    source: bearingSteelSheet,
  },
  CuZn39Pb3: like('brass-cw614n', 'Leaded brass CuZn39Pb3', {
    cutting: 'leaded-brass',
    densityKgPerM3: BRASS_KG_PER_M3,
  }),
  CuZn36Pb3: like('brass-c36000', 'Free-cutting brass CuZn36Pb3', {
    cutting: 'leaded-brass',
    densityKgPerM3: BRASS_KG_PER_M3,
  }),
  ZP0410: like('zinc-zp0410', 'Zinc die-casting alloy ZP0410', { densityKgPerM3: ZINC_CASTING_KG_PER_M3 }),
}

/** The field in which a design names the material of a part. */
export function partMaterialField(title: string) {
  return choice(
    title,
    PART_MATERIALS,
    Object.fromEntries(PART_MATERIALS.map((name) => [name, partMaterials[name].title])),
  )
}

/** What is known of a named material; `undefined` where nothing is. */
export function partMaterial(name: string): PartMaterial | undefined {
  return (partMaterials as Readonly<Record<string, PartMaterial>>)[name]
}

/** Class of cutting data of a named material; `undefined` where none is known. */
export function cuttingClassOf(name: string): CutMaterial | undefined {
  return partMaterial(name)?.cutting
}
