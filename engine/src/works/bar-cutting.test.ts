import { describe, expect, it } from 'vitest'
import hb50 from '../../../demo/designs/hb50.json'
import ry40 from '../../../demo/designs/ry40.json'
import order from '../../../demo/orders/26-041-harbour.json'
import works from '../../../demo/works.json'
import type { WorksPlan } from './plan.ts'
import { planOrder } from './plan-order.ts'
import type { Works } from './resources.ts'
import { remnantsAfter, stockAfter } from './stock-after.ts'

async function planned(change: { bars?: Works['bars']; oneHeat?: boolean } = {}): Promise<WorksPlan> {
  const result = await planOrder({
    order: { ...order, lots: { ...order.lots, ...(change.oneHeat === undefined ? {} : { oneHeat: change.oneHeat }) } },
    designs: [hb50, ry40],
    works: { ...works, bars: change.bars ?? works.bars },
  })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.plan
}
const lengthOf = (bars: readonly { lengthMm: number; quantity: number }[]) =>
  bars.reduce((sum, { lengthMm, quantity }) => sum + lengthMm * quantity, 0)

describe('remnants of an order', () => {
  it('go back to the rack, and every bar taken is gone from it', async () => {
    const plan = await planned()
    const remnants = remnantsAfter(plan)
    expect(remnants.length).toBeGreaterThan(0)
    for (const { lengthMm, remnant } of remnants) {
      expect(lengthMm).toBeGreaterThanOrEqual(works.saw.keepFromMm)
      expect(remnant).toBe(true)
    }
    const used = plan.barCutting.flatMap(({ layout }) =>
      (layout?.layouts ?? []).map(({ stockLengthMm, times }) => ({ lengthMm: stockLengthMm, quantity: times })),
    )
    expect(lengthOf(stockAfter(plan))).toBeCloseTo(lengthOf(works.bars) - lengthOf(used) + lengthOf(remnants), 6)
  })

  it('are taken first by the next order, and fewer whole bars leave the rack', async () => {
    const fresh = works.bars.filter(({ remnant }) => remnant !== true)
    const long = { form: 'flat 50 × 25', lengthMm: 1500, quantity: 2, remnant: true }
    const plan = await planned({ bars: [long, ...fresh], oneHeat: false })
    const of = ({ barCutting }: WorksPlan, lengthMm: number) =>
      (barCutting.find(({ form }) => form === long.form)?.layout?.layouts ?? [])
        .filter(({ stockLengthMm }) => stockLengthMm === lengthMm)
        .reduce((sum, { times }) => sum + times, 0)
    expect(of(plan, 1500)).toBeGreaterThan(0)
    expect(of(plan, 3000)).toBeLessThan(of(await planned({ bars: fresh, oneHeat: false }), 3000))
  })
})

describe('one heat for a lot', () => {
  const heated = (quantities: readonly number[]): Works['bars'] =>
    works.bars.flatMap((bar) => quantities.map((quantity, i) => ({ ...bar, quantity, heat: `${bar.form} ${'AB'[i]}` })))

  it('every lot is cut from bars of one heat, and every piece is there', async () => {
    const plan = await planned({ bars: heated([12, 12]), oneHeat: true })
    for (const { layout, pieces } of plan.barCutting) {
      const heatsOf = new Map<string, Set<string>>()
      for (const { heat = '', lots = [] } of layout?.layouts ?? [])
        for (const lot of lots) heatsOf.set(lot, (heatsOf.get(lot) ?? new Set()).add(heat))
      for (const heats of heatsOf.values()) expect(heats.size).toBe(1)
      for (const { name, quantity } of pieces)
        expect((layout?.layouts ?? []).reduce((sum, { times, pieces: cut }) => sum + times * (cut[name] ?? 0), 0)).toBe(
          quantity,
        )
    }
    expect(plan.findings.filter(({ id }) => id.startsWith('order/heats/')).map(({ verdict }) => verdict)).toEqual(
      plan.barCutting.map(() => 'holds'),
    )
  })

  it('the demo order keeps every lot to one heat, takes bars of several lengths, none more than there are, and remnants of its heats first', async () => {
    const plan = await planned()
    const used = plan.barCutting.flatMap(({ form, layout }) =>
      (layout?.layouts ?? []).map((each) => ({ form, ...each })),
    )
    for (const { form, heat, stockLengthMm, lots = [] } of used) {
      expect(lots.length, form).toBeGreaterThan(0)
      const atHand = works.bars.filter(
        (bar) => bar.form === form && bar.heat === heat && bar.lengthMm === stockLengthMm,
      )
      const taken = used
        .filter((other) => other.form === form && other.heat === heat && other.stockLengthMm === stockLengthMm)
        .reduce((sum, { times }) => sum + times, 0)
      expect(taken, `${form} ${heat}`).toBeLessThanOrEqual(atHand.reduce((sum, { quantity }) => sum + quantity, 0))
    }
    expect(used.filter(({ remnant }) => remnant === true).map(({ stockLengthMm }) => stockLengthMm)).toEqual(
      expect.arrayContaining([1250, 1460, 1480]),
    )
    const remnants = works.bars.filter(({ remnant }) => remnant === true).map(({ lengthMm }) => lengthMm)
    const taken = used.map(({ stockLengthMm }) => stockLengthMm).filter((length) => remnants.includes(length))
    expect(taken.toSorted((a, b) => a - b)).toEqual([1250, 1460, 1480])
    expect(new Set(used.filter(({ form }) => form === 'round 9').map(({ stockLengthMm }) => stockLengthMm)).size).toBe(
      3,
    )
    expect(plan.findings.filter(({ id }) => id.startsWith('order/heats/')).map(({ verdict }) => verdict)).toEqual([
      'holds',
      'holds',
    ])
  })

  it('a heat too small for a lot falls short, and bars without a heat are not known', async () => {
    const short = await planned({ bars: heated([1, 1]), oneHeat: true })
    expect(short.findings.find(({ id }) => id === 'order/heats/flat 50 × 25')?.verdict).toBe('falls-short')
    const nameless = works.bars.map(({ form, lengthMm, quantity }) => ({ form, lengthMm, quantity }))
    const plan = await planned({ bars: nameless, oneHeat: true })
    expect(plan.findings.find(({ id }) => id === 'order/heats/flat 50 × 25')?.verdict).toBe('not-known')
    expect((await planned({ oneHeat: false })).findings.some(({ id }) => id.startsWith('order/heats/'))).toBe(false)
  })
})
