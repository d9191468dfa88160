import type { AnalysisKind, Composition, Design, DesignPlan, furnaceRecord, Lot, Works } from '@haspwright/engine'
import { formatNumber, shackleMassKg, shackleRoomL } from '@haspwright/engine'

/** Places from the centre to the surface at which the section is asked for. */
const PLACES = 21

/** The analysis on the mill certificate of the bar: of the melt, or of a piece of the product. */
export interface OwnAnalysis {
  readonly kind: AnalysisKind
  readonly analysis: Composition
}

/** A quenched shackle, as the section out of the quench is asked for it. */
export function quenchInput({ shackle, heat }: Design, own?: Composition) {
  return {
    steel: shackle.steel,
    diameterMm: shackle.barDiameter.nominalMm,
    medium: heat.quenchant,
    agitation: heat.agitation,
    points: PLACES,
    ...(own === undefined ? {} : { composition: own }),
  }
}

/** The same after tempering. */
export function temperedInput(design: Design, own?: Composition) {
  const { temperC, temperMinutes } = design.heat
  return { ...quenchInput(design, own), temperatureC: temperC, minutes: temperMinutes }
}

/** Tempering temperature for the middle of the hardness asked for. */
export function proposalInput({ shackle, heat }: Design) {
  const { minHrc, maxHrc } = heat.hardness
  return { steel: shackle.steel, hrc: (minHrc + maxHrc) / 2, minutes: heat.temperMinutes }
}

/** Hardening heat and soak for the shackle's section. */
export function windowInput({ shackle }: Design, own?: Composition) {
  return {
    steel: shackle.steel,
    sectionMm: shackle.barDiameter.nominalMm,
    ...(own === undefined ? {} : { composition: own }),
  }
}

/** Toughness at the coldest use that the design is sold for. */
export function coldInput({ shackle, heat, requirements }: Design) {
  return { steel: shackle.steel, temperC: heat.temperC, useC: requirements.impactColdC?.limit ?? requirements.coldC }
}

/** The window out of which a hardening recipe is made. */
export interface HardeningWindow {
  readonly minC: number
  readonly maxC: number
  readonly setC: number
  readonly soakMinutes: number
}

/** Which part of the treatment a furnace record is held against. */
export const RECORD_KINDS = ['hardening', 'tempering'] as const
export type RecordKind = (typeof RECORD_KINDS)[number]

export type RecordRecipe = ReturnType<typeof furnaceRecord.input.parse>['recipe']

/** Common practice (no source), where neither design nor works states a limit. */
const TEMPERING_WINDOW_K = 10
const LONGEST_GAP_MINUTES = 5

/** What a record is held against unless other limits are typed: the plan's temperatures and times. */
export function recordRecipe(kind: RecordKind, { heat }: Design, window: HardeningWindow): RecordRecipe {
  if (kind === 'tempering')
    return {
      setC: heat.temperC,
      minusK: TEMPERING_WINDOW_K,
      plusK: TEMPERING_WINDOW_K,
      soakMinutes: heat.temperMinutes,
      maxSpreadK: 2 * TEMPERING_WINDOW_K,
      maxOvershootK: TEMPERING_WINDOW_K,
      maxGapMinutes: LONGEST_GAP_MINUTES,
    }
  const { minC, maxC, setC, soakMinutes } = window
  return {
    setC,
    minusK: setC - minC,
    plusK: maxC - setC,
    soakMinutes,
    maxSpreadK: maxC - minC,
    maxOvershootK: maxC - setC,
    maxGapMinutes: LONGEST_GAP_MINUTES,
  }
}

/** A recipe in words: two designs whose words agree may share a charge. */
export function recipeWords({ shackle, heat }: Design, { setC, soakMinutes }: HardeningWindow): string {
  const { quenchant, agitation, bathC, temperC, temperMinutes } = heat
  const set = formatNumber(setC)
  return `${shackle.steel}, ${set} °C for ${soakMinutes} min, ${quenchant} at ${bathC} °C (agitation ${agitation}), temper ${temperC} °C for ${temperMinutes} min`
}

/** Time of a charge as the works plan counts it. */
export function cycleMinutes({ heat }: Design, { soakMinutes }: HardeningWindow, { furnace }: Works): number {
  return soakMinutes + heat.temperMinutes + furnace.heatUpMinutes
}

/** A design that is hardened, with its window. */
export interface HardenedDesign {
  readonly design: Design
  readonly window: HardeningWindow
}

/** The charges of an order's lots: lots without locks need none, unlike recipes are not mixed. */
export function chargePlanInput(lots: readonly LotShape[], hardened: readonly HardenedDesign[], works: Works) {
  const recipes: { recipe: string; words: string; minutes: number }[] = []
  const nameOf = ({ design, window }: HardenedDesign): string => {
    const words = recipeWords(design, window)
    const known = recipes.find((each) => each.words === words)
    if (known !== undefined) return known.recipe
    const recipe = `Recipe ${recipes.length + 1}`
    recipes.push({ recipe, words, minutes: cycleMinutes(design, window, works) })
    return recipe
  }
  const asked = lots.flatMap(({ id, design: designId, locks }) => {
    const found = hardened.find(({ design }) => design.id === designId)
    if (found === undefined || locks === 0) return []
    const [partMassKg, partVolumeL] = [shackleMassKg(found.design), shackleRoomL(found.design)]
    return [{ lot: id, recipe: nameOf(found), parts: locks, partMassKg, partVolumeL }]
  })
  const { maxChargeKg, basketDm3, fillPercent } = works.furnace
  return {
    recipes: recipes.map(({ recipe, words }) => ({ recipe, words })),
    input: {
      chargeMassKg: maxChargeKg,
      basketVolumeL: basketDm3,
      fillPercent,
      recipes: recipes.map(({ recipe, minutes }) => ({ recipe, minutes })),
      lots: asked,
    },
  }
}
export type LotShape = Pick<Lot, 'id' | 'design' | 'locks'>

/** Designs of an order whose shackles are hardened. */
export function hardenedDesigns(designs: readonly DesignPlan[]): readonly Design[] {
  return designs
    .filter(({ operations }) => operations.some(({ operation }) => operation === 'harden'))
    .map(({ design }) => design)
}

export type ChargeHeat =
  | { readonly ok: true; readonly input: Readonly<Record<string, unknown>> }
  | { readonly ok: false; readonly because: string }

/** What heating and quenching a charge is asked with, or what the works does not state. */
export function chargeHeatInput(partsKg: number, { design, window }: HardenedDesign, { furnace }: Works): ChargeHeat {
  const { quenchTank } = furnace
  const { quenchant, bathC } = design.heat
  if (quenchTank === undefined)
    return {
      ok: false,
      because: 'The works file states no quench tank: mass of the bath, how warm it may get, mass of the basket.',
    }
  if (quenchTank.bath !== quenchant)
    return {
      ok: false,
      because: `The works file states a tank of ${quenchTank.bath}, the design quenches in ${quenchant}.`,
    }
  return {
    ok: true,
    input: {
      partsKg,
      basketKg: quenchTank.basketKg,
      hardeningC: window.setC,
      bath: quenchTank.bath,
      bathKg: quenchTank.bathKg,
      bathC,
      bathLimitC: quenchTank.limitC,
    },
  }
}
