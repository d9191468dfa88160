import type { Design } from '@haspwright/engine'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }

const hb50 = harbour as unknown as Design

/** The sizes that the tests reckon with, so that the demo may change under them. */
export const reckoned = changed((d) => {
  const exactly = (nominalMm: number) => ({ nominalMm, plusMm: 0.03, minusMm: 0.03 })
  d.barrel.diameter = exactly(14)
  d.ball.diameter = exactly(8)
  d.body.legAxisToBarrelAxis = exactly(16.9)
  d.shackle.barDiameter = exactly(9)
  d.shackle.insideWidth = exactly(24.8)
  d.shackle.heelLegMm = 70
  d.shackle.toeLegMm = 50
  d.shackle.neutralAxisFactor = 0.46
  d.barrel.recessDepth = exactly(2.72)
  d.body.heelBore.diameter = { nominalMm: 9.25, plusMm: 0.06, minusMm: 0 }
  d.body.widthMm = 50
  d.body.height = exactly(56)
  d.body.thicknessMm = 25
  d.coating.onShackle = { minUm: 26, maxUm: 46 }
  d.coating.inBores = { minUm: 2, maxUm: 12 }
})

/** A design with other sizes, as far as the drawings are concerned. */
export function changed(change: (design: Design) => void, from = hb50): Design {
  const copy = structuredClone(from)
  change(copy)
  return copy
}
