import { blank } from '../shackle/blank.ts'
import { ask } from './ask.ts'
import type { BarPiece } from './bar-cutting.ts'
import type { Design } from './design.ts'

/** Length of the straight blank that bends into the shackle. */
export function blankOf({ shackle }: Design) {
  return ask(blank, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    insideWidthMm: shackle.insideWidth.nominalMm,
    heelLegMm: shackle.heelLegMm,
    toeLegMm: shackle.toeLegMm,
    neutralAxisFactor: shackle.neutralAxisFactor,
  })
}

/** What one lock asks of the saw: a block for the body and a blank for the shackle, each with what facing takes off. */
export function barPieces(design: Design): BarPiece[] {
  const { id, body, shackle } = design
  const block: BarPiece = {
    form: body.barForm,
    section: { kind: 'flat', widthMm: body.widthMm, thicknessMm: body.thicknessMm },
    name: `${id} body`,
    lengthMm: roundUp(body.height.nominalMm + body.sawAllowanceMm),
  }
  const bent = blankOf(design)
  if (!bent.ok) return [block]
  return [
    block,
    {
      form: shackle.barForm,
      section: { kind: 'round', diameterMm: shackle.barDiameter.nominalMm },
      name: `${id} shackle`,
      lengthMm: roundUp(bent.output.blankLengthMm + shackle.sawAllowanceMm),
    },
  ]
}

/** A stop on the saw is set to a tenth. */
const roundUp = (mm: number) => Math.ceil(mm * 10 - 1e-6) / 10
