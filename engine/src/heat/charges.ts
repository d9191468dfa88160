import { z } from 'zod'
import { packVectors } from '../numeric/vector-packing.ts'
import { wholeMultiples } from '../numeric/whole-multiples.ts'
import { count, list, percent, quantity, text } from '../quantity.ts'

/** What a plan of charges is asked with. */
export const chargePlanFields = z.strictObject({
  chargeMassKg: quantity('M', 'kg', 'Largest mass of parts in a charge', { min: 0.01, max: 100_000 }),
  basketVolumeL: quantity('V', 'L', 'Volume of the basket', { min: 0.01, max: 100_000 }),
  fillPercent: percent(String.raw`\varphi`, 'Share of the basket that may be filled', {
    min: 1,
    max: 100,
    trusted: [10, 70],
  }),
  recipes: list(
    'Recipes',
    z.strictObject({
      recipe: text('Recipe', { max: 60 }),
      minutes: quantity('t', 'min', 'Time of one charge', { min: 1, max: 100_000 }),
    }),
    { max: 20 },
  ),
  lots: list(
    'Lots',
    z.strictObject({
      lot: text('Lot', { max: 60 }),
      recipe: text('Recipe', { max: 60 }),
      parts: count('Parts', { min: 1, max: 1_000_000 }),
      partMassKg: quantity('m', 'kg', 'Mass of a part', { min: 1e-4, max: 1000 }),
      partVolumeL: quantity('v', 'L', 'Room a part takes', { min: 1e-5, max: 1000 }),
      alone: z.boolean().default(false).meta({
        title: 'Shares its charge with no other lot',
        description: 'Where a recall must not reach beyond the lot',
      }),
    }),
    { max: 200 },
  ),
})
/** A checked request for a plan. */
export type Asked = z.output<typeof chargePlanFields>
type Lot = Asked['lots'][number]

/** Charges of one recipe that hold the same. */
export interface Charge {
  readonly recipe: string
  readonly times: number
  readonly lots: readonly { readonly lot: string; readonly parts: number }[]
}

/** Room of the basket that may be filled, in litres. */
export const roomL = ({ basketVolumeL, fillPercent }: Asked) => (basketVolumeL * fillPercent) / 100

/** The charges of one recipe: full ones of large lots, then what is left packed together. */
export function chargesFor(recipe: string, asked: Asked): { charges: Charge[]; lowerBound: number; proven: boolean } {
  const charges: Charge[] = []
  const rests: (Lot & { rest: number })[] = []
  for (const lot of asked.lots.filter((candidate) => candidate.recipe === recipe)) {
    const holds = Math.min(
      wholeMultiples(asked.chargeMassKg, lot.partMassKg),
      wholeMultiples(roomL(asked), lot.partVolumeL),
    )
    const full = Math.floor(lot.parts / holds)
    const rest = lot.parts - full * holds
    if (full > 0) charges.push({ recipe, times: full, lots: [{ lot: lot.lot, parts: holds }] })
    if (rest > 0 && lot.alone) charges.push({ recipe, times: 1, lots: [{ lot: lot.lot, parts: rest }] })
    else if (rest > 0) rests.push({ ...lot, rest })
  }
  const own = charges.reduce((sum, { times }) => sum + times, 0)
  const packing = packVectors(
    rests.map(({ rest, partMassKg, partVolumeL }) => [
      Math.min(1, (rest * partMassKg) / asked.chargeMassKg),
      Math.min(1, (rest * partVolumeL) / roomL(asked)),
    ]),
  )
  for (const bin of packing.bins)
    charges.push({
      recipe,
      times: 1,
      lots: bin.flatMap((i) => (rests[i] === undefined ? [] : [{ lot: rests[i].lot, parts: rests[i].rest }])),
    })
  return { charges, lowerBound: own + packing.lowerBound, proven: packing.proven }
}

/** How full a charge is. */
export function filling({ lots }: Charge, asked: Asked) {
  const totals = lots.map(({ lot, parts }) => {
    const { partMassKg = 0, partVolumeL = 0 } = asked.lots.find((known) => known.lot === lot) ?? {}
    return [parts * partMassKg, parts * partVolumeL] as const
  })
  const massKg = totals.reduce((sum, [mass]) => sum + mass, 0)
  const volumeL = totals.reduce((sum, [, volume]) => sum + volume, 0)
  return { massKg, massPercent: (100 * massKg) / asked.chargeMassKg, volumePercent: (100 * volumeL) / roomL(asked) }
}

/** Every lot that shares a charge, with those it shares one with: how far a fault in one charge reaches. */
export function sharing(charges: readonly Charge[]): { lot: string; with: string[] }[] {
  const partners = new Map<string, Set<string>>()
  for (const { lots } of charges)
    for (const { lot } of lots)
      for (const { lot: other } of lots)
        if (other !== lot) partners.set(lot, (partners.get(lot) ?? new Set()).add(other))
  return [...partners].map(([lot, others]) => ({ lot, with: [...others] }))
}
