import { describe, expect, it } from 'vitest'
import type { z } from 'zod'
import { answerLong } from '../calculation.ts'
import { CODE_RULES, type CodeRules } from '../numeric/code-rules.ts'
import { chart } from './chart.ts'
import { seededChance } from './chart-chance.ts'

type Input = z.input<typeof chart.input>
type Output = z.output<typeof chart.output>
interface Order {
  keys: string[]
  locks: { name: string; openedBy: string[] }[]
}

const MECHANISM = { discs: 7, values: 10, maxGatesPerDisc: 3, minDifferingDiscs: 1, seconds: 2 }

async function placed(input: Partial<Input> & Order): Promise<{ output: Output; notices: readonly string[] }> {
  const answer = await answerLong(chart, { ...MECHANISM, ...input })
  if (!answer.ok) throw new Error(JSON.stringify(answer.issues))
  return answer
}

async function refused(input: Partial<Input> & Order) {
  const answer = await answerLong(chart, { ...MECHANISM, ...input })
  if (answer.ok) throw new Error('a chart was given')
  return answer.issues
}

/** Tried apart from the program: discs each key misses in each lock. */
function expectChart(
  { keys, locks }: Output,
  { order, least, rules = {} }: { order: Order; least: number; rules?: CodeRules },
) {
  const codes = new Map(keys.map(({ name, code }) => [name, code]))
  expect(new Set(keys.map(({ code }) => code.join())).size).toBe(keys.length)
  let worst = Number.POSITIVE_INFINITY
  for (const { name, openedBy } of order.locks) {
    const gates = locks.find((lock) => lock.name === name)?.gates ?? []
    for (const key of order.keys) {
      const missed = (codes.get(key) ?? []).filter((value, disc) => !gates[disc]?.includes(value)).length
      if (openedBy.includes(key)) expect(missed).toBe(0)
      else worst = Math.min(worst, missed)
    }
    // Gates are just the values of the keys.
    for (const [disc, values] of gates.entries())
      expect(values).toEqual(
        [...new Set(openedBy.map((key) => codes.get(key)?.[disc] ?? -1))].toSorted((a, b) => a - b),
      )
  }
  expect(worst).toBeGreaterThanOrEqual(least)
  for (const { code } of keys)
    for (const rule of CODE_RULES)
      expect(rule.refusal(code, { discs: code.length, values: 12, rules }), rule.name).toBeUndefined()
  return worst
}

/** A key for each lock, and masters above them all. */
function mastered(count: number, ...masters: string[]): Order {
  const names = Array.from({ length: count }, (_, i) => `${i + 1}`)
  return {
    keys: [...masters, ...names.map((n) => `K${n}`)],
    locks: names.map((n) => ({ name: `L${n}`, openedBy: [`K${n}`, ...masters] })),
  }
}

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

describe('codes.chart, from both sides of the limit', () => {
  it.each([
    { discs: 4, values: 2, most: 6 },
    { discs: 3, values: 3, most: 12 },
    { discs: 3, values: 4, most: 27 },
  ])(
    '$discs discs of $values values hold $most keys apart under one master, and no more (own count)',
    async ({ most, ...mechanism }) => {
      const order = mastered(most, 'M')
      const { output } = await placed({ ...order, ...mechanism })
      expectChart(output, { order, least: 1 })
      expect(output.room).toEqual({ locks: 0, under: 'M' })
      const [issue] = await refused({ ...mastered(most + 1, 'M'), ...mechanism })
      expect(issue).toMatchObject({ path: 'locks', code: 'out-of-reach' })
      expect(issue?.message).toContain(`at most ${most} keys can stand apart under one master`)
      expect(issue?.message).toContain(`the ${most + 1} locks under key M (L1 to L${most + 1})`)
      expect(issue?.message).toContain('more discs')
    },
  )

  it.each([
    { discs: 5, values: 4, minDifferingDiscs: 4, most: 16 },
    { discs: 4, values: 5, minDifferingDiscs: 3, most: 25 },
    { discs: 6, values: 5, minDifferingDiscs: 5, most: 25 },
    { discs: 3, values: 6, minDifferingDiscs: 2, most: 36 },
  ])(
    'A($discs, $minDifferingDiscs) of $values values: no chart of more than $most keys (Brouwer)',
    async ({ most, ...mechanism }) => {
      const [issue] = await refused({ ...mastered(most + 1), ...mechanism })
      expect(issue?.code).toBe('out-of-reach')
    },
  )

  it.each([
    { discs: 4, values: 5, minDifferingDiscs: 3, most: 25 },
    { discs: 6, values: 5, minDifferingDiscs: 5, most: 25 },
    { discs: 3, values: 6, minDifferingDiscs: 2, most: 36 },
  ])(
    'A($discs, $minDifferingDiscs) of $values values: all $most keys are placed (Brouwer)',
    async ({ most, ...mechanism }) => {
      const order = mastered(most)
      const { output } = await placed({ ...order, ...mechanism })
      expectChart(output, { order, least: mechanism.minDifferingDiscs })
    },
  )

  it('5 discs of 6 values, two discs apart: 625 keys under one master, and no more (own count)', async () => {
    const mechanism = { discs: 5, values: 6, minDifferingDiscs: 2 }
    const order = mastered(625, 'M')
    expectChart((await placed({ ...order, ...mechanism })).output, { order, least: 2 })
    const [issue] = await refused({ ...mastered(626, 'M'), ...mechanism })
    expect(issue?.message).toContain('at most 625 keys can stand apart under one master, 626 are needed')
  })

  it('asks for no distance where nobody is kept out, and for no more than there are discs elsewhere', async () => {
    const alike = { keys: ['A', 'B'], locks: [{ name: 'L', openedBy: ['A', 'B'] }] }
    expect((await placed({ ...alike, minDifferingDiscs: 9 })).output.worstDifferingDiscs).toBe(7)
    const [issue] = await refused({ ...mastered(2), minDifferingDiscs: 8 })
    expect(issue?.message).toMatch(/^No chart exists: keys cannot differ in 8 discs where only 7 are free\./)
  })

  it('A(6, 5) of 4 values is 9: ten keys are never placed (Brouwer)', async () => {
    const [issue] = await refused({ ...mastered(10), discs: 6, values: 4, minDifferingDiscs: 5, seconds: 0.3 })
    expect(issue?.message).toMatch(/^No chart was found; one may exist/)
  })

  it('says how many discs or values a chart by levels needs', async () => {
    const [issue] = await refused({ ...mastered(40, 'M'), discs: 3, values: 4, minDifferingDiscs: 1 })
    expect(issue?.message).toMatch(/by levels it needs 4\).*by levels 5 are enough/)
    const order = mastered(40, 'M')
    expectChart((await placed({ ...order, discs: 4, values: 4 })).output, { order, least: 1 })
    expectChart((await placed({ ...order, discs: 3, values: 5 })).output, { order, least: 1 })
  })

  it('knows that two keys need a second gate, and that rules leave too few codes', async () => {
    const [crowded] = await refused({ ...mastered(2, 'M'), maxGatesPerDisc: 1 })
    expect(crowded?.message).toMatch(/tightest are the keys of lock L1, 2 in all.*more gates on a disc/)
    const [few] = await refused({ ...mastered(5), discs: 3, values: 3, rules: { fixed: { '0': 1, '1': 2 } } })
    expect(few?.message).toMatch(/5 keys are asked for and 3 codes keep the rules.*looser rules/)
  })
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

describe('codes.chart, extended', () => {
  it('leaves what is made as it is, and new keys and locks fit around it', async () => {
    const first = mastered(20, 'M')
    const before = (await placed({ ...first, minDifferingDiscs: 2 })).output
    const existing = {
      keys: before.keys.map(({ name, code }) => ({ name, code })),
      locks: before.locks,
    }
    const more: Order = {
      keys: [...Array.from({ length: 15 }, (_, i) => `N${i}`), 'stranger'],
      locks: [
        ...Array.from({ length: 15 }, (_, i) => ({ name: `new ${i}`, openedBy: [`N${i}`, 'M'] })),
        { name: 'apart', openedBy: ['stranger'] },
      ],
    }
    const { output, notices } = await placed({ ...more, minDifferingDiscs: 2, existing })
    expect(output.keys.slice(0, 21).map(({ name, code }) => ({ name, code }))).toEqual(existing.keys)
    expect(output.locks.slice(0, 20)).toEqual(existing.locks)
    expectChart(output, {
      order: { keys: [...first.keys, ...more.keys], locks: [...first.locks, ...more.locks] },
      least: 2,
    })
    expect(output.verified).toBe(true)
    expect(notices).toEqual([])
  })

  it('gives a further key to a lock made already only within its gates', async () => {
    const existing = {
      keys: [
        { name: 'K', code: [1, 2, 3] },
        { name: 'M', code: [4, 5, 3] },
      ],
      locks: [{ name: 'L', gates: [[1, 4], [2, 5], [3]] }],
    }
    const order = { keys: ['new'], locks: [{ name: 'L', openedBy: ['K', 'M', 'new'] }] }
    const { output } = await placed({ ...order, discs: 3, existing })
    expect([
      [1, 5, 3],
      [4, 2, 3],
    ]).toContainEqual(output.keys[2]?.code)
    expect(output.locks).toEqual(existing.locks)
  })

  it('tells of old keys that are nearer than asked for now, and changes nothing', async () => {
    const existing = {
      keys: [
        { name: 'A', code: [1, 2, 3] },
        { name: 'B', code: [1, 2, 4] },
      ],
      locks: [{ name: 'LA', gates: [[1], [2], [3]] }],
    }
    const { output, notices } = await placed({
      keys: ['C'],
      locks: [{ name: 'LC', openedBy: ['C'] }],
      discs: 3,
      minDifferingDiscs: 2,
      existing,
    })
    expect(output).toMatchObject({ worstDifferingDiscs: 1, verified: false })
    expect(notices).toEqual([
      expect.stringMatching(/^Among keys and locks made already 1 pairs are nearer than 2 discs, 0 of them/),
    ])
  })
})

describe('codes.chart, bad orders', () => {
  it('names everything that contradicts itself at once', async () => {
    const issues = await refused({
      keys: ['A', 'B', 'A', 'idle'],
      locks: [
        { name: 'L1', openedBy: ['A'] },
        { name: 'L1', openedBy: ['B'] },
        { name: 'L2', openedBy: [] },
        { name: 'L3', openedBy: ['B', 'nobody'] },
      ],
    })
    expect(issues.map(({ path, code }) => [path, code])).toEqual([
      ['keys[2]', 'contradiction'],
      ['locks[1].name', 'contradiction'],
      ['locks[2].openedBy', 'contradiction'],
      ['locks[3].openedBy[1]', 'not-found'],
      ['keys[3]', 'contradiction'],
    ])
  })

  it('refuses existing codes and gates of another mechanism, and lists that are not as they open, without repeating a cut', async () => {
    const existing = {
      keys: [
        { name: 'A', code: [7, 7, 7] },
        { name: 'B', code: [9, 11] },
      ],
      locks: [{ name: 'L', gates: [[7], [7]] }],
    }
    const order = { keys: ['C'], locks: [{ name: 'LC', openedBy: ['C'] }] }
    const issues = await refused({ ...order, discs: 3, values: 9, existing })
    expect(issues.map(({ path, value }) => [path, value])).toEqual([
      ['existing.keys[1].code', '(withheld)'],
      ['existing.locks[0].gates', '(withheld)'],
    ])
    const fits = { keys: existing.keys.slice(0, 1), locks: [{ name: 'L', gates: [[7], [7], [7]] }] }
    const unlisted = await refused({
      ...order,
      locks: [...order.locks, { name: 'L', openedBy: ['C'] }],
      discs: 3,
      existing: fits,
    })
    expect(unlisted).toEqual([
      {
        path: 'locks[1].openedBy',
        code: 'contradiction',
        message: 'Existing key A opens existing lock L, but is not listed for it.',
      },
    ])
    expect(JSON.stringify([issues, unlisted])).not.toMatch(/7|11/)
  })

  it('refuses rules that contradict themselves', async () => {
    const [issue] = await refused({ ...mastered(2), rules: { fixed: { '9': 1 } } })
    expect(issue).toMatchObject({ path: 'rules.fixed.9', code: 'contradiction' })
  })
})
