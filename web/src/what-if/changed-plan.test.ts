import { planOrder, type WorksPlan } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import hb50 from '../../../demo/designs/hb50.json'
import ry40 from '../../../demo/designs/ry40.json'
import harbour from '../../../demo/orders/26-041-harbour.json'
import works from '../../../demo/works.json'
import { changedPlan } from './changed-plan.ts'
import { withFigure } from './figure-places.ts'

async function planned(designs: readonly unknown[]): Promise<WorksPlan> {
  const result = await planOrder({ order: harbour, designs, works })
  if (!result.ok) throw new Error('The demo order cannot be planned.')
  return result.plan
}
const bars = (plan: Pick<WorksPlan, 'findings'>) => plan.findings.find(({ id }) => id.startsWith('order/bars/flat'))

describe('a plan with tried figures', () => {
  it('comes to the plan of the whole order with them, once that is at hand', async () => {
    const plan = await planned([hb50, ry40])
    const design = plan.designs[0]?.design
    if (design === undefined) throw new Error('The plan holds no design.')
    const longer = withFigure(design, ['body', 'height', 'nominalMm'], design.body.height.nominalMm + 20)
    const whole = await planned([longer, ry40])
    const changed = new Map([[longer.id, longer]])

    expect(bars(changedPlan(plan, { changed }))).toEqual(bars(plan))
    const shown = changedPlan(plan, { changed, whole })
    expect(bars(shown)?.predicted).not.toEqual(bars(plan)?.predicted)
    expect(shown.findings).toEqual(whole.findings)
    expect(shown.sentence).toEqual(whole.sentence)
    expect(shown.barCutting).toEqual(whole.barCutting)
  })

  it('leaves the latest plan of the whole order aside where nothing is tried any more', async () => {
    const plan = await planned([hb50, ry40])
    expect(changedPlan(plan, { changed: new Map(), whole: await planned([ry40, hb50]) })).toBe(plan)
  })
})
