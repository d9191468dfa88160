import { drilledBody } from '../body/solids.ts'
import { formatQuantity } from '../display.ts'
import type { Evidence } from '../finding.ts'
import { convertHardness } from '../heat/convert-hardness.ts'
import { temper } from '../heat/temper.ts'
import { tensileOnCard } from '../heat/tempering-curve.ts'
import { STEEL_KG_PER_M3 } from '../materials/heat-properties.ts'
import { steels } from '../materials/steels.ts'
import { bentShackle } from '../shackle/solids.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'

const STEEL_KG_PER_MM3 = STEEL_KG_PER_M3 * 1e-9

const shackleSolid = ({ shackle }: Design) =>
  bentShackle({
    barDiameterMm: shackle.barDiameter.nominalMm,
    insideWidthMm: shackle.insideWidth.nominalMm,
    heelLegMm: shackle.heelLegMm,
    toeLegMm: shackle.toeLegMm,
  })

const bodySolid = ({ body }: Design) =>
  drilledBody({
    widthMm: body.widthMm,
    thicknessMm: body.thicknessMm,
    heightMm: body.height.nominalMm,
    bores: [body.barrelBore, body.heelBore, body.toeBore, body.crossBore, body.crossBore].map(
      ({ diameter, depthMm }) => ({
        diameterMm: diameter.nominalMm,
        depthMm,
      }),
    ),
  })

/** Mass of a bent shackle, kg. */
export function shackleMassKg(design: Design): number {
  return shackleSolid(design).volumeMm3 * STEEL_KG_PER_MM3
}

/** Room a bent shackle takes in a basket, L. */
export function shackleRoomL(design: Design): number {
  return shackleSolid(design).roomMm3 * 1e-6 // mm³ → L
}

/** Mass of a drilled body, kg. */
export function bodyMassKg(design: Design): number {
  return bodySolid(design).volumeMm3 * STEEL_KG_PER_MM3
}

/** Face that takes current for one lock, dm²: the outside of the body and the whole shackle; bores draw little and are left out. */
export function platedAreaDm2(design: Design): number {
  return (bodySolid(design).outsideAreaMm2 + shackleSolid(design).areaMm2) * 1e-4 // mm² → dm²
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
