import { boredRoom, type PlaneBore } from '../body/bored-block.ts'
import { formatQuantity } from '../display.ts'
import type { Evidence } from '../finding.ts'
import { convertHardness } from '../heat/convert-hardness.ts'
import { temper } from '../heat/temper.ts'
import { tensileOnCard } from '../heat/tempering-curve.ts'
import { STEEL_KG_PER_M3 } from '../materials/heat-properties.ts'
import { steels } from '../materials/steels.ts'
import { notchCut } from '../shackle/notch-cut.ts'
import { bentShackle } from '../shackle/solids.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { remembered } from './remember.ts'

/** Exact cuts of one body and one shackle are asked for by every step that weighs, heats or plates them. */
const roomOfBores = remembered(boredRoom)
const cutOfNotch = remembered(notchCut)

const STEEL_KG_PER_MM3 = STEEL_KG_PER_M3 * 1e-9

/** What the machined parts of a design hold and cover: closed forms, held against the solids of the model by its tests. */
export interface PartSolid {
  readonly volumeMm3: number
  readonly areaMm2: number
}

function bentOf({ shackle }: Design) {
  return bentShackle({
    barDiameterMm: shackle.barDiameter.nominalMm,
    insideWidthMm: shackle.insideWidth.nominalMm,
    heelLegMm: shackle.heelLegMm,
    toeLegMm: shackle.toeLegMm,
  })
}

/** The shackle, bent and notched, before plating. */
export function shackleSolid(design: Design): PartSolid {
  const { barDiameter, notch } = design.shackle
  const { volumeMm3, areaMm2 } = bentOf(design)
  const notches = notch.legs === 'both' ? 2 : 1
  const each = cutOfNotch({
    barDiameterMm: barDiameter.nominalMm,
    cutterDiameterMm: notch.cutterDiameterMm,
    depthMm: notch.depth.nominalMm,
  })
  return { volumeMm3: volumeMm3 - notches * each.volumeMm3, areaMm2: areaMm2 - notches * each.areaLossMm2 }
}

/** The drilled body at finished sizes: all of it, and its skin by outside and bores. */
export function bodySolid(design: Design): PartSolid & { readonly outsideMm2: number; readonly boresMm2: number } {
  const { widthMm: w, thicknessMm: t, height } = design.body
  const h = height.nominalMm
  const bores = boresInPlane(design)
  const { volumeMm3, wallMm2 } = roomOfBores(bores, { x: [-w / 2, w / 2], z: [-h, 0] })
  const mouths = bores.reduce((sum, { diameterMm }) => sum + (Math.PI / 4) * diameterMm ** 2, 0)
  const outsideMm2 = 2 * (w * t + w * h + t * h) - mouths
  const boresMm2 = Object.values(wallMm2).reduce((sum, each) => sum + each, 0)
  return { volumeMm3: w * t * h - volumeMm3, areaMm2: outsideMm2 + boresMm2, outsideMm2, boresMm2 }
}

/** The bores as rectangles in the plane of their axes: x from the barrel axis, z down from the top face below zero. */
function boresInPlane({ body }: Design): PlaneBore[] {
  const axis = body.legAxisToBarrelAxis.nominalMm
  const h = body.height.nominalMm
  const level = -body.crossBoreFromTopMm
  const side = body.widthMm / 2
  const bore = (
    name: string,
    { diameter }: { diameter: { nominalMm: number } },
    place: Omit<PlaneBore, 'name' | 'diameterMm'>,
  ) => ({
    name,
    diameterMm: diameter.nominalMm,
    ...place,
  })
  return [
    bore('barrel', body.barrelBore, { axis: 'z', at: 0, from: -h, to: -h + body.barrelBore.depthMm }),
    bore('heel', body.heelBore, { axis: 'z', at: -axis, from: -body.heelBore.depthMm, to: 0 }),
    bore('toe', body.toeBore, { axis: 'z', at: axis, from: -body.toeBore.depthMm, to: 0 }),
    bore('cross, heel side', body.crossBore, { axis: 'x', at: level, from: -side, to: -side + body.crossBore.depthMm }),
    bore('cross, toe side', body.crossBore, { axis: 'x', at: level, from: side - body.crossBore.depthMm, to: side }),
  ]
}

/** Mass of a bent and notched shackle, kg. */
export function shackleMassKg(design: Design): number {
  return shackleSolid(design).volumeMm3 * STEEL_KG_PER_MM3
}

/** Room a bent shackle takes in a basket, L. */
export function shackleRoomL(design: Design): number {
  return bentOf(design).roomMm3 * 1e-6 // mm³ → L
}

/** Mass of a drilled body, kg. */
export function bodyMassKg(design: Design): number {
  return bodySolid(design).volumeMm3 * STEEL_KG_PER_MM3
}

/** A face of the lock that is plated. */
export interface PlatedFace {
  readonly key: 'body-outside' | 'body-bores' | 'shackle'
  readonly title: string
  readonly areaMm2: number
  /** How much of the current of an open face it draws: a bore that is plated a fifth as thick draws a fifth of the current. */
  readonly currentShare: number
}

/** What of a lock is plated: the outside of the body, the whole shackle, and the bores by their coating's share of the shackle's. */
export function platedFaces(design: Design): readonly PlatedFace[] {
  const { inBores, onShackle } = design.coating
  const share = (inBores.minUm + inBores.maxUm) / (onShackle.minUm + onShackle.maxUm || 1)
  const { outsideMm2, boresMm2 } = bodySolid(design)
  return [
    { key: 'body-outside', title: 'Body, outside', areaMm2: outsideMm2, currentShare: 1 },
    { key: 'body-bores', title: 'Body, bores', areaMm2: boresMm2, currentShare: Math.min(1, share) },
    { key: 'shackle', title: 'Shackle', areaMm2: shackleSolid(design).areaMm2, currentShare: 1 },
  ]
}

/** What a face counts in the current of a bath, dm². */
export const currentAreaDm2 = ({ areaMm2, currentShare }: PlatedFace) => areaMm2 * currentShare * 1e-4 // mm² → dm²

/** Face that takes current for one lock, dm²: each plated face by its share. */
export function platedAreaDm2(design: Design): number {
  return platedFaces(design).reduce((sum, face) => sum + currentAreaDm2(face), 0)
}

type Tensile =
  | { readonly ok: true; readonly hrc: number; readonly tensileMPa: number; readonly evidence: Evidence }
  | { readonly ok: false; readonly because: string }

/** Hardness that the tempering of a design leaves. */
function temperedHrc({ heat, shackle }: Design): { ok: true; hrc: number } | { ok: false; because: string } {
  const tempered = ask(temper, { temperatureC: heat.temperC, minutes: heat.temperMinutes, steel: shackle.steel })
  if (!tempered.ok) return tempered
  const { hrc } = tempered.output
  return hrc === undefined
    ? { ok: false, because: `No tempering table is known for ${shackle.steel}.` }
    : { ok: true, hrc }
}

/** Tensile strength to reckon with where the shackle must hold: of the hardness expected, the smaller of card and conversion table. */
export function holdingStrength(design: Design): Tensile {
  const tempered = temperedHrc(design)
  return tempered.ok ? strengthOf(design, tempered.hrc, 'smaller') : tempered
}

/**
 * Tensile strength to reckon with where hydrogen threatens: of the hardest shackle that the design allows, the larger of card and
 * conversion table.
 */
export function hydrogenStrength(design: Design): Tensile {
  const { maxHrc } = design.heat.hardness
  const tempered = temperedHrc(design)
  return strengthOf(design, tempered.ok ? Math.max(tempered.hrc, maxHrc) : maxHrc, 'larger')
}

function strengthOf({ shackle }: Design, hrc: number, which: 'smaller' | 'larger'): Tensile {
  const converted = ask(convertHardness, { from: 'HRC', value: hrc })
  if (!converted.ok) return converted
  const { tensileMPa } = converted.output
  const { evidence } = converted
  const onCard = tensileOnCard(steels[shackle.steel].tempering?.rows ?? [], hrc)
  if (onCard === undefined) return { ok: true, hrc, tensileMPa, evidence }
  const taken = which === 'larger' ? Math.max(onCard, tensileMPa) : Math.min(onCard, tensileMPa)
  const notice = `At ${formatQuantity(hrc, 'HRC')} the card of ${shackle.steel} gives ${formatQuantity(onCard, 'MPa')}, the conversion table ${formatQuantity(tensileMPa, 'MPa')}; the ${which} is taken.`
  return { ok: true, hrc, tensileMPa: taken, evidence: { ...evidence, notices: [...evidence.notices, notice] } }
}
