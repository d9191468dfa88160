import { type Source, source } from '../source.ts'

/** Linear thermal expansion near 20 to 100 °C. */
export const expansionConstants = source({
  id: 'table.linear-expansion',
  status: 'handbook',
  citation:
    'W. D. Callister, Materials Science and Engineering, Table B.6, and public expansion tables of engineering handbooks',
  place: 'steels 1040, 1045 and 4140; brasses C36000 and C37700; nickel; zinc alloy',
})

/** Values that were not read; to confirm before leaning on them. */
export const rememberedExpansion = source({
  id: 'memory.linear-expansion',
  status: 'from memory (unverified)',
  citation: 'Linear expansion of leaded brass CW614N and of chromium: to confirm in a data sheet',
  note: 'Handbooks disagree on chromium (4.9 to 6.2).',
})

export const EXPANDING_MATERIALS = [
  'steel-1040',
  'steel-1045',
  'steel-4140',
  'brass-c36000',
  'brass-c37700',
  'brass-cw614n',
  'zinc-zp0410',
  'nickel',
  'chromium',
] as const
export type ExpandingMaterial = (typeof EXPANDING_MATERIALS)[number]

/** Linear expansion per kelvin, with its source. */
export const expansions: Readonly<
  Record<ExpandingMaterial, { readonly title: string; readonly perK: number; readonly source: Source }>
> = {
  'steel-1040': { title: 'Carbon steel 1040 (C40)', perK: 11.3e-6, source: expansionConstants },
  'steel-1045': { title: 'Carbon steel 1045 (C45)', perK: 11.6e-6, source: expansionConstants },
  'steel-4140': { title: 'Chromium-molybdenum steel 4140 (42CrMo4)', perK: 12.3e-6, source: expansionConstants },
  'brass-c36000': { title: 'Free-cutting brass C36000', perK: 20.5e-6, source: expansionConstants },
  'brass-c37700': { title: 'Forging brass C37700', perK: 20.7e-6, source: expansionConstants },
  'brass-cw614n': { title: 'Leaded brass CW614N (CuZn39Pb3)', perK: 21.1e-6, source: rememberedExpansion },
  'zinc-zp0410': { title: 'Zinc die-casting alloy ZP0410', perK: 27.4e-6, source: expansionConstants },
  nickel: { title: 'Nickel', perK: 13.3e-6, source: expansionConstants },
  chromium: { title: 'Chromium', perK: 5.5e-6, source: rememberedExpansion },
}

/** Linear expansion of a material by its name here; `undefined` for one that is not listed. */
export function expansionOf(material: string): { readonly perK: number; readonly source: Source } | undefined {
  return EXPANDING_MATERIALS.some((known) => known === material) ? expansions[material as ExpandingMaterial] : undefined
}
