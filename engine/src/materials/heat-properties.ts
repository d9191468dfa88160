import { source } from '../source.ts'

/** Specific heats for the arithmetic of furnace and quench bath; a calorie per gram is 4186.8 J/kg. */
export const quenchHeats = source({
  id: 'article.quench-tank-heats',
  status: 'handbook',
  citation: 'Article of a thermal-processing journal on the size of quench tanks',
  place:
    'steel 0.17, quench oil 0.45, polymer 0.95, water 1.0 cal/(g·K); a gallon of oil to the pound rises about 38 K',
  note: 'The article calls them typical values at 20 °C; 0.17 for steel is rather a mean over the quench. It takes oil at 8.3 lb/gal.',
})

/** Conductivity hardly matters in a furnace (small Biot number); it is not a published figure here. */
export const hotSteelConductivity = source({
  id: 'memory.hot-steel-conductivity',
  status: 'from memory (unverified)',
  citation:
    'Mean thermal conductivity of low-alloy steel from 20 to 850 °C, about 30 W/(m·K): to confirm in a handbook',
})

/** Density of plain and low-alloy steel, kg/m³: data sheet 34CrMo4, 7.85 kg/dm³. */
export const STEEL_KG_PER_M3 = 7850

/** Steel between room temperature and the hardening heat. */
export const hotSteel850 = {
  densityKgPerM3: STEEL_KG_PER_M3,
  specificHeatJPerKgK: 0.17 * 4186.8,
  conductivityWPerMK: 30,
} as const

export const QUENCH_BATHS = ['oil', 'polymer', 'water'] as const
export type QuenchBath = (typeof QUENCH_BATHS)[number]

/** Specific heat of a bath in J/(kg·K), from the same article. */
export const bathSpecificHeat: Readonly<Record<QuenchBath, number>> = {
  oil: 0.45 * 4186.8,
  polymer: 0.95 * 4186.8,
  water: 1 * 4186.8,
}
