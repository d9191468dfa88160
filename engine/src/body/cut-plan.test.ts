import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import falkenauer from '../../../checks/cutting-stock/falkenauer.json' with { type: 'json' }
import scholl from '../../../checks/cutting-stock/scholl.json' with { type: 'json' }
import textbook from '../../../checks/cutting-stock/textbook.json' with { type: 'json' }
import { answerLong } from '../calculation.ts'
import { loadHighs } from '../numeric/integer-program.ts'
import { cutPlan } from './cut-plan.ts'
import type { CuttingOrder } from './cutting-problem.ts'

beforeAll(async () => {
  await loadHighs()
})

const SAW = { kerfMm: 0, endTrimMm: 0, gripMm: 0 }

async function plan(order: CuttingOrder & { keepFromMm?: number }) {
  const result = await answerLong(cutPlan, order)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  expectSound(order, result.output)
  return result.output
}

type Output = Awaited<ReturnType<typeof plan>>

/** Every layout fits its bar, every piece comes exactly as often as asked, no bar is used that is not at hand. */
function expectSound(order: CuttingOrder, { bars, layouts, lowerBound, proven, objective, costMinor }: Output) {
  const made = new Map<string, number>()
  const used = new Map<number, number>()
  for (const { stockLengthMm, times, pieces, offcutMm } of layouts) {
    const room = stockLengthMm - order.endTrimMm - order.gripMm
    let [sum, k] = [0, 0]
    for (const [name, n] of Object.entries(pieces)) {
      made.set(name, (made.get(name) ?? 0) + n * times)
      sum += n * (order.pieces.find((piece) => piece.name === name)?.lengthMm ?? Number.NaN)
      k += n
    }
    expect(k).toBeGreaterThan(0)
    const needed = sum + (order.gripMm > 0 ? k : k - 1) * order.kerfMm
    expect(needed, JSON.stringify(pieces)).toBeLessThanOrEqual(room + 1e-6)
    expect(offcutMm).toBeCloseTo(Math.max(0, room - sum - k * order.kerfMm), 3)
    used.set(stockLengthMm, (used.get(stockLengthMm) ?? 0) + times)
  }
  for (const { name, quantity } of order.pieces) expect(made.get(name), name).toBe(quantity)
  for (const [length, times] of used) {
    const atHand = order.stock
      .filter(({ lengthMm }) => lengthMm === length)
      .reduce((sum, { quantity }) => sum + (quantity ?? Number.POSITIVE_INFINITY), 0)
    expect(times).toBeLessThanOrEqual(atHand)
  }
  expect(bars).toBe(layouts.reduce((sum, { times }) => sum + times, 0))
  const reached = objective === 'bars' ? bars : (costMinor ?? Number.NaN)
  expect(lowerBound).toBeLessThanOrEqual(reached)
  expect(proven).toBe(lowerBound === reached)
}

const binPacking = ({ capacity, items }: { capacity: number; items: number[] }) => ({
  ...SAW,
  stock: [{ lengthMm: capacity }],
  pieces: [...new Set(items)].map((lengthMm) => ({
    name: `${lengthMm}`,
    lengthMm,
    quantity: items.filter((item) => item === lengthMm).length,
  })),
})

describe('body.cut-plan against published instances', () => {
  it.each(falkenauer.instances.map((instance) => [instance.name, instance] as const))(
    '%s is cut from the published optimum of bars, proven (Falkenauer 1996)',
    async (_, instance) => {
      const { bars, proven } = await plan(binPacking(instance))
      expect({ bars, proven }).toEqual({ bars: instance.optimum, proven: true })
    },
  )

  it.each(scholl.instances.map((instance) => [instance.name, instance] as const))(
    '%s is cut from the published optimum of bars, proven (Scholl, Klein, Juergens 1997)',
    async (_, instance) => {
      const { bars, proven } = await plan(binPacking(instance))
      expect({ bars, proven }).toEqual({ bars: instance.optimum, proven: true })
    },
  )

  it.each(textbook.cases.map((given) => [given.name, given] as const))('%s (textbook)', async (_, given) => {
    const { bars, proven } = await plan({
      ...SAW,
      stock: [{ lengthMm: given.stock }],
      pieces: given.lengths.map((lengthMm, i) => ({ name: `${lengthMm}`, lengthMm, quantity: given.demand[i] ?? 0 })),
    })
    if (given.optimumRolls !== null) expect({ bars, proven }).toEqual({ bars: given.optimumRolls, proven: true })
    else expect(proven).toBe(true)
  })
})

describe('body.cut-plan with a saw', () => {
  it('with a kerf is the same as longer bars and pieces without one: 110 + 2 and l + 2 (identity)', async () => {
    const [book] = textbook.cases
    const pieces = (book?.lengths ?? []).map((lengthMm, i) => ({
      name: `${lengthMm}`,
      lengthMm,
      quantity: book?.demand[i] ?? 0,
    }))
    const sawn = await plan({ ...SAW, kerfMm: 2, stock: [{ lengthMm: 110 }], pieces })
    const longer = pieces.map((piece) => ({ ...piece, lengthMm: piece.lengthMm + 2 }))
    const whole = await plan({ ...SAW, stock: [{ lengthMm: 112 }], pieces: longer })
    expect([sawn.bars, sawn.lowerBound, sawn.proven]).toEqual([whole.bars, whole.lowerBound, true])
  })

  it.each([
    // Three pieces of 100 and two kerfs of 2 are 304: the last one ends with the bar.
    [304, 0, 1],
    [303.999, 0, 2],
    // With a clamp each is cut off: three kerfs, and the grip stays.
    [304 + 2 + 40, 40, 1],
    [304 + 2 + 40 - 0.001, 40, 2],
  ])(
    'a bar of %f mm with grip %f mm gives three pieces of 100 mm in %i bar(s) (rule of the order form)',
    async (lengthMm, gripMm, bars) => {
      const order = {
        kerfMm: 2,
        endTrimMm: 0,
        gripMm,
        stock: [{ lengthMm }],
        pieces: [{ name: 'leg', lengthMm: 100, quantity: 3 }],
      }
      expect((await plan(order)).bars).toBe(bars)
    },
  )

  it('adds decimal lengths as decimals: ten pieces of 0.1 more than 1 fill a bar of 11 (no binary rounding)', async () => {
    const order = { ...SAW, stock: [{ lengthMm: 11 }], pieces: [{ name: 'pin', lengthMm: 1.1, quantity: 10 }] }
    expect((await plan(order)).bars).toBe(1)
  })

  it('takes the cheapest bars, not the fewest: two of 3 m at 10 before one of 6 m at 25 (hand check)', async () => {
    const order = {
      ...SAW,
      stock: [
        { lengthMm: 6000, costMinor: 2500 },
        { lengthMm: 3000, costMinor: 1000 },
      ],
      pieces: [{ name: 'blank', lengthMm: 1500, quantity: 4 }],
    }
    expect(await plan(order)).toMatchObject({ bars: 2, costMinor: 2000, lowerBound: 2000, objective: 'cost' })
  })

  it('counts bars where there is no cost, and puts each layout on the shortest bar that takes it (hand check)', async () => {
    const order = {
      ...SAW,
      stock: [{ lengthMm: 6000 }, { lengthMm: 3000, quantity: 1 }],
      pieces: [{ name: 'blank', lengthMm: 1500, quantity: 6 }],
    }
    const { bars, layouts } = await plan(order)
    expect(bars).toBe(2)
    expect(layouts.map(({ stockLengthMm, times }) => [stockLengthMm, times])).toEqual([
      [6000, 1],
      [3000, 1],
    ])
  })

  it('lists the remnants worth keeping, with what stayed in the clamp: 1000 − 3 × 301 is 97 (hand check)', async () => {
    const order = {
      kerfMm: 1,
      endTrimMm: 0,
      gripMm: 50,
      stock: [{ lengthMm: 1000 }],
      pieces: [{ name: 'leg', lengthMm: 300, quantity: 7 }],
    }
    const { remnants } = await plan({ ...order, keepFromMm: 97 })
    expect(remnants).toEqual([
      { lengthMm: 699, quantity: 1 },
      { lengthMm: 97, quantity: 2 },
    ])
    expect((await plan({ ...order, keepFromMm: 97.001 })).remnants).toEqual([{ lengthMm: 699, quantity: 1 }])
    expect((await plan(order)).remnants).toBeUndefined()
  })

  it('uses a remnant first where it is given at a lower cost (hand check)', async () => {
    const order = {
      ...SAW,
      stock: [
        { lengthMm: 6000, costMinor: 3000 },
        { lengthMm: 1600, quantity: 1, costMinor: 0 },
      ],
      pieces: [{ name: 'blank', lengthMm: 1500, quantity: 5 }],
    }
    expect(await plan(order)).toMatchObject({ bars: 2, costMinor: 3000, proven: true })
  })

  it('shares bars between pieces of equal length and keeps their names apart', async () => {
    const order = {
      ...SAW,
      stock: [{ lengthMm: 300 }],
      pieces: [
        { name: 'heel', lengthMm: 100, quantity: 4 },
        { name: '__proto__', lengthMm: 100, quantity: 5 },
      ],
    }
    expect((await plan(order)).bars).toBe(3)
  })

  it('proves an order of a usual size, several bars and five kinds of piece', async () => {
    const order = {
      kerfMm: 1.5,
      endTrimMm: 10,
      gripMm: 60,
      stock: [{ lengthMm: 6000 }, { lengthMm: 3000, quantity: 20 }],
      pieces: [
        { name: 'body 50', lengthMm: 52, quantity: 480 },
        { name: 'body 40', lengthMm: 41.5, quantity: 120 },
        { name: 'shackle 50', lengthMm: 131.25, quantity: 480 },
        { name: 'shackle 40', lengthMm: 98.4, quantity: 120 },
        { name: 'barrel', lengthMm: 33, quantity: 600 },
      ],
    }
    const { proven } = await plan(order)
    expect(proven).toBe(true)
  })
})

describe('body.cut-plan refuses', () => {
  const order = {
    ...SAW,
    stock: [{ lengthMm: 1000, quantity: 2 }],
    pieces: [{ name: 'leg', lengthMm: 300, quantity: 6 }],
  }
  const issuesOf = async (given: unknown) => {
    const result = await answerLong(cutPlan, given)
    return result.ok ? [] : result.issues
  }

  it('a piece longer than any bar, by name, each one', async () => {
    const pieces = [
      { name: 'rail', lengthMm: 1001, quantity: 1 },
      { name: 'leg', lengthMm: 300, quantity: 1 },
      { name: 'mast', lengthMm: 5000, quantity: 1 },
    ]
    const issues = await issuesOf({ ...order, pieces })
    expect(issues.map(({ path }) => path)).toEqual(['pieces[0].lengthMm', 'pieces[2].lengthMm'])
    expect(issues[0]?.message).toContain('rail')
    expect(issues[0]?.allowed).toContain('1000 mm')
  })

  it('too few bars, saying how much stays uncut; one piece fewer goes', async () => {
    const [issue] = await issuesOf({ ...order, pieces: [{ name: 'leg', lengthMm: 300, quantity: 7 }] })
    expect(issue).toMatchObject({ path: 'stock', code: 'contradiction' })
    expect(issue?.message).toContain('300 mm')
    expect((await plan(order)).bars).toBe(2)
  })

  it('too few bars although bars in parts would do: 2 bars cannot give 3 pieces of 600', async () => {
    const [issue] = await issuesOf({ ...order, pieces: [{ name: 'leg', lengthMm: 600, quantity: 3 }] })
    expect(issue).toMatchObject({ path: 'stock', code: 'contradiction' })
  })

  it('zero length, a quantity of 10^9, a name given twice, a cost on some bars only', async () => {
    const zero = await issuesOf({ ...order, pieces: [{ name: 'leg', lengthMm: 0, quantity: 1_000_000_000 }] })
    expect(zero.map(({ path, code }) => [path, code])).toEqual([
      ['pieces[0].lengthMm', 'out-of-range'],
      ['pieces[0].quantity', 'out-of-range'],
    ])
    const twice = await issuesOf({
      ...order,
      stock: [{ lengthMm: 1000, costMinor: 5 }, { lengthMm: 500 }],
      pieces: [...order.pieces, ...order.pieces],
    })
    expect(twice.map(({ path }) => path)).toEqual(['pieces[1].name', 'stock[1].costMinor'])
  })

  it('when it is cancelled', async () => {
    const result = await answerLong(cutPlan, order, { signal: { aborted: true } })
    expect(result).toMatchObject({ ok: false, issues: [{ code: 'not-converged' }] })
  })
})

/** Fewest bars, or least cost, by trying everything: states are what is left to cut and which bars are left. */
function bruteForce({ stock, kerfMm, endTrimMm, gripMm, pieces }: CuttingOrder): number {
  const known = new Map<string, number>()
  const costed = stock.some(({ costMinor }) => costMinor !== undefined)
  const best = (left: readonly number[], bars: readonly number[]): number => {
    if (left.every((n) => n === 0)) return 0
    const key = `${left}|${bars}`
    const seen = known.get(key)
    if (seen !== undefined) return seen
    let least = Number.POSITIVE_INFINITY
    for (const [s, { lengthMm, costMinor }] of stock.entries()) {
      if ((bars[s] ?? 0) === 0) continue
      const room = lengthMm - endTrimMm - gripMm
      const fill = (i: number, rest: readonly number[], sum: number, k: number): void => {
        const needed = sum + Math.max(0, gripMm > 0 ? k : k - 1) * kerfMm
        if (needed > room + 1e-9) return
        if (i === pieces.length) {
          if (k > 0) {
            const others = bars.map((n, b) => (b === s ? n - 1 : n))
            least = Math.min(least, (costed ? (costMinor ?? 0) : 1) + best(rest, others))
          }
          return
        }
        for (let n = 0; n <= (left[i] ?? 0); n++)
          fill(
            i + 1,
            rest.map((r, j) => (j === i ? (left[i] ?? 0) - n : r)),
            sum + n * (pieces[i]?.lengthMm ?? 0),
            k + n,
          )
      }
      fill(0, left, 0, 0)
    }
    known.set(key, least)
    return least
  }
  return best(
    pieces.map(({ quantity }) => quantity),
    stock.map(({ quantity }) => quantity ?? 99),
  )
}

const tinyOrder = fc
  .record({
    stock: fc.array(
      fc.record({
        lengthMm: fc.integer({ min: 20, max: 60 }),
        quantity: fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }),
        cost: fc.integer({ min: 1, max: 9 }),
      }),
      { minLength: 1, maxLength: 2 },
    ),
    costed: fc.boolean(),
    kerfMm: fc.constantFrom(0, 0.5, 2),
    endTrimMm: fc.constantFrom(0, 3),
    gripMm: fc.constantFrom(0, 5),
    pieces: fc.uniqueArray(
      fc.record({ lengthMm: fc.integer({ min: 6, max: 25 }), quantity: fc.integer({ min: 1, max: 4 }) }),
      {
        minLength: 1,
        maxLength: 3,
        selector: ({ lengthMm }) => lengthMm,
      },
    ),
  })
  .map(({ stock, costed, pieces, ...saw }) => ({
    ...saw,
    stock: stock.map(({ lengthMm, quantity, cost }) => ({
      lengthMm,
      ...(quantity === undefined ? {} : { quantity }),
      ...(costed ? { costMinor: cost } : {}),
    })),
    pieces: pieces.map((piece) => ({ name: `${piece.lengthMm}`, ...piece })),
  }))

describe('body.cut-plan on any small order', () => {
  it('agrees with trying everything, and is proven', async () => {
    await fc.assert(
      fc.asyncProperty(tinyOrder, async (order) => {
        const least = bruteForce(order)
        const result = await answerLong(cutPlan, order)
        if (!result.ok) {
          expect(least).toBe(Number.POSITIVE_INFINITY)
          return
        }
        expectSound(order, result.output)
        expect(result.output.proven).toBe(true)
        expect(result.output.lowerBound).toBe(least)
      }),
      { seed: 4711, numRuns: 150 },
    )
  }, 60_000)
})
