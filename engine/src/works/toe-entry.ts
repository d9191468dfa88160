import { toeEntry } from '../shackle/toe-entry.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { type Dimension, limitsOf } from './dimension.ts'

/** How many shackles of a design find their second bore. */
export function toeEntryOf({ shackle, body, coating }: Design) {
  const axis = body.legAxisToBarrelAxis
  return ask(toeEntry, {
    barDiameterMm: shackle.barDiameter.nominalMm,
    barDiameterSigmaMm: scatter(shackle.barDiameter),
    insideWidthMm: shackle.insideWidth.nominalMm,
    legLengthMm: shackle.toeLegMm,
    yieldMPa: shackle.bending.yieldMPa,
    yieldSigmaMPa: shackle.bending.yieldSigmaMPa,
    elasticMPa: shackle.bending.elasticMPa,
    pressSigmaMm: shackle.bending.widthSigmaMm,
    boreDistanceMm: 2 * axis.nominalMm,
    boreDistanceSigmaMm: Math.SQRT2 * scatter(axis),
    boreDiameterMm: middle(body.toeBore.diameter),
    heelBoreDiameterMm: middle(body.heelBore.diameter),
    legDiameterMm: middle(shackle.barDiameter) + (coating.onShackle.minUm + coating.onShackle.maxUm) / 1000, // 2 · mean, µm → mm
  })
}

const scatter = ({ sigmaMm, plusMm, minusMm }: Dimension) => sigmaMm ?? (plusMm + minusMm) / 6

function middle(dimension: Dimension): number {
  const { minMm, maxMm } = limitsOf(dimension)
  return (minMm + maxMm) / 2
}
