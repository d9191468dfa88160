import { describe, expect, it } from 'vitest'
import { CODE_RULES, type CodeRules } from '../../numeric/code-rules.ts'
import { seededChance } from './chance.ts'
import { expectChart, mastered, type Order, placed, refused } from './chart.testing.ts'

/** Houses with a door for each key and an entrance for all. */
function houses(count: number, doors: number, ...masters: string[]): Order {
  const order: Order = { keys: [...masters], locks: [] }
  for (let house = 0; house < count; house++) {
    const own = Array.from({ length: doors }, (_, i) => `K${house}.${i}`)
    order.keys.push(...own)
    order.locks.push(...own.map((key) => ({ name: `door ${key}`, openedBy: [key, ...masters] })))
    order.locks.push({ name: `entrance ${house}`, openedBy: [...own, ...masters] })
  }
  return order
}

/** A forest drawn by chance: groups within groups, some keyed alike, some with two keys. */
function forest(seed: number): Order {
  const chance = seededChance(seed)
  const order: Order = { keys: [], locks: [] }
  const grow = (above: readonly string[], depth: number) => {
    const key = `K${order.keys.length}`
    order.keys.push(key)
    const own = chance(6) === 0 ? [key, `${key} spare`] : [key]
    if (own.length > 1) order.keys.push(`${key} spare`)
    const leaf = depth === 3 || chance(3) === 0
    const locks = leaf ? 1 + chance(2) : chance(2)
    for (let i = 0; i < locks; i++) order.locks.push({ name: `L${order.locks.length}`, openedBy: [...above, ...own] })
    if (!leaf) for (let i = 0, count = 2 + chance(3); i < count; i++) grow([...above, ...own], depth + 1)
  }
  for (let i = 0, count = 1 + chance(3); i < count; i++) grow([], 0)
  return order
}

describe('codes.chart, levels', () => {
  it.each(Array.from({ length: 12 }, (_, seed) => seed))(
    'places forest %i, every key in its locks and no other',
    async (seed) => {
      const order = forest(seed)
      const rules = { maxSameInRow: 2, minDistinct: 3, ...(seed % 3 === 1 ? { maxStep: 6 } : {}) }
      const least = 1 + (seed % 2)
      const input = { ...order, discs: 10, rules, minDifferingDiscs: least, seed }
      const { output } = await placed(input)
      const worst = expectChart(output, { order, least, rules })
      expect(output).toMatchObject({ worstDifferingDiscs: Number.isFinite(worst) ? worst : 10, verified: true })
      expect((await placed(input)).output).toEqual(output)
      expect((await placed({ ...input, seed: seed + 100 })).output.keys).not.toEqual(output.keys)
    },
  )

  it('gives two gates to a disc at most, however many levels', async () => {
    const order: Order = { keys: ['works', 'hall 0', 'hall 1'], locks: [] }
    for (let i = 0; i < 24; i++) {
      const above = ['works', `hall ${i % 2}`, `bay ${i % 6}`, `rack ${i % 12}`]
      order.locks.push({ name: `L${i}`, openedBy: [`K${i}`, ...above] })
    }
    order.keys = [...new Set(order.locks.flatMap(({ openedBy }) => openedBy))]
    const { output } = await placed({ ...order, maxGatesPerDisc: 2, minDifferingDiscs: 1, values: 6 })
    expectChart(output, { order, least: 1 })
    expect(output.method).toBe('levels')
    expect(Math.max(...output.locks.flatMap(({ gates }) => gates.map(({ length }) => length)))).toBe(2)
  })

  it('keeps every rule of the works at once', async () => {
    const order = mastered(30, 'M')
    const rules: CodeRules = {
      maxSameInRow: 2,
      maxStep: 5,
      minDistinct: 4,
      maxOfOne: 3,
      fixed: { '0': 4 },
      congruence: { modulus: 10, remainder: 3 },
    }
    const { output } = await placed({ ...order, rules, minDifferingDiscs: 2, discs: 9 })
    expectChart(output, { order, least: 2, rules })
  })

  it('places 1000 locks on three levels', async () => {
    const order: Order = { keys: ['GM'], locks: [] }
    for (let i = 0; i < 1000; i++) {
      if (i % 50 === 0) order.keys.push(`M${i / 50}`)
      order.keys.push(`K${i}`)
      order.locks.push({ name: `L${i}`, openedBy: [`K${i}`, `M${Math.floor(i / 50)}`, 'GM'] })
    }
    const { output } = await placed({ ...order, rules: { maxSameInRow: 2, minDistinct: 3 }, minDifferingDiscs: 2 })
    expect(output).toMatchObject({ method: 'levels', pairsTried: 1_021_000, verified: true, worstDifferingDiscs: 2 })
    expect(output.locksPerLostKey.max).toBe(1000)
  }, 30_000)
})

describe('codes.chart, keys that cross', () => {
  it.each([
    { name: 'ten houses, an entrance each', order: houses(10, 12), least: 1 },
    { name: 'four houses under a master, two discs apart', order: houses(4, 12, 'M'), least: 2 },
  ])('$name: placed by levels, the entrance open to its house alone', async ({ order, least }) => {
    const { output } = await placed({ ...order, discs: 8, maxGatesPerDisc: 4, minDifferingDiscs: least })
    expectChart(output, { order, least })
    expect(output.method).toBe('levels')
    expect(Math.max(...output.locks.flatMap(({ gates }) => gates.map(({ length }) => length)))).toBeLessThanOrEqual(4)
  })

  it.each([1, 2, 3])('locks with three individual keys drawn by chance, seed %i, are found by search', async (seed) => {
    const chance = seededChance(seed)
    const keys = Array.from({ length: 40 }, (_, i) => `K${i}`)
    const order = {
      keys,
      locks: Array.from({ length: 60 }, (_, i) => ({
        name: `L${i}`,
        openedBy: [...new Set([`K${i % 40}`, `K${chance(40)}`, `K${chance(40)}`])],
      })),
    }
    const { output } = await placed({ ...order, minDifferingDiscs: 2, seed })
    expectChart(output, { order, least: 2 })
    expect(output.method).toBe('search')
  })

  it('a master over locks whose other keys cross is kept, and the others found around it', async () => {
    const chance = seededChance(9)
    const order: Order = { keys: ['M', ...Array.from({ length: 60 }, (_, i) => `K${i}`)], locks: [] }
    for (let i = 0; i < 90; i++)
      order.locks.push({ name: `L${i}`, openedBy: [...new Set(['M', `K${i % 60}`, `K${chance(60)}`])] })
    const rules = { maxSameInRow: 2, minDistinct: 3 }
    const { output } = await placed({ ...order, rules, minDifferingDiscs: 2 })
    expectChart(output, { order, least: 2, rules })
    expect(output.locksPerLostKey.max).toBe(90)
  })

  it('the smallest ring: three locks, each with two of three keys', async () => {
    const order = {
      keys: ['a', 'b', 'c'],
      locks: [
        { name: 'ab', openedBy: ['a', 'b'] },
        { name: 'bc', openedBy: ['b', 'c'] },
        { name: 'ca', openedBy: ['c', 'a'] },
      ],
    }
    // Each key must leave the other two on one disc: three discs of two values do it, two do not (all 4³ are tried here).
    expectChart((await placed({ ...order, discs: 3, values: 2, maxGatesPerDisc: 2 })).output, { order, least: 1 })
    const all = [0, 1, 2, 3].flatMap((a) => [0, 1, 2, 3].flatMap((b) => [0, 1, 2, 3].map((c) => [a, b, c])))
    const bit = (code = 0, disc = 0) => (code >> disc) & 1
    const shut = (key?: number, one?: number, two?: number) =>
      [0, 1].some((disc) => bit(key, disc) !== bit(one, disc) && bit(key, disc) !== bit(two, disc))
    expect(all.some(([a, b, c]) => shut(a, b, c) && shut(b, a, c) && shut(c, a, b))).toBe(false)
    const [issue] = await refused({ ...order, discs: 2, values: 2, maxGatesPerDisc: 2, seconds: 0.2 })
    expect(issue?.code).toBe('out-of-reach')
  })
})

describe('codes.chart, what it gives away', () => {
  it.each([
    { rules: {} },
    { rules: { maxSameInRow: 1, minDistinct: 3 } },
    { rules: { congruence: { modulus: 3, remainder: 1 } } },
  ])('counts unlisted codes as complete enumeration does, rules $rules (own count)', async ({ rules }) => {
    const order = { ...mastered(8, 'M', 'N'), discs: 6, values: 4 }
    const { output } = await placed({ ...order, rules })
    const shape = { discs: 6, values: 4, rules }
    const counts = output.locks.map(({ gates }) => {
      const inside = gates.reduce<number[][]>(
        (codes, values) => codes.flatMap((code) => values.map((v) => [...code, v])),
        [[]],
      )
      const lawful = inside.filter((code) => CODE_RULES.every((rule) => rule.refusal(code, shape) === undefined))
      return lawful.length - 3
    })
    expect(output.unlistedCodesPerLock.max).toBe(Math.max(...counts))
    expect(output.unlistedCodesPerLock.mean).toBeCloseTo(counts.reduce((sum, n) => sum + n, 0) / 8, 9)
    expect(output.locksPerLostKey).toEqual({ max: 8, mean: expect.closeTo((2 * 8 + 8) / 10, 9) })
  })

  it('leaves discs for a further level, and tells how much more fits', async () => {
    const { output } = await placed({ ...mastered(10, 'M') })
    expect(output.discsLeft).toBe(5)
    expect(output.room).toEqual({ locks: 64, under: 'M' })
  })
})
