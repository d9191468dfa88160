import type { Design } from '@haspwright/engine'
import { ballDistance } from '../drawing/parts/detent.ts'
import { shifted, within } from './carving.ts'
import { ball } from './parts/ball.ts'
import { shackleLeg } from './parts/bent-shackle.ts'

/**
 * How far the held ball stands in the toe leg, measured in the solid: the breadth that ball and leg would share without the notch, the
 * leg leaning away from the ball until it meets its bore.
 */
export function engagementInModelMm(design: Design): number {
  const leg = shackleLeg(design, 1, 'finished')
  const [low, high] = leg.boundingBox.bounds
  const { legAxisToBarrelAxis, toeBore } = design.body
  const playMm = (toeBore.diameter.nominalMm - (high[0] - low[0])) / 2
  const away = legAxisToBarrelAxis.nominalMm - (low[0] + high[0]) / 2 + playMm
  const held = shifted(ball(design), [ballDistance(design, 'locked'), 0, (low[2] + high[2]) / 2])
  const common = within(held, shifted(leg, [away, 0, 0]))
  const [from, to] = common.boundingBox.bounds
  common.delete()
  return to[0] - from[0]
}
