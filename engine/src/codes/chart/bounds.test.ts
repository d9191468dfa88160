import { describe, expect, it } from 'vitest'
import { expectChart, mastered, placed, refused } from './chart.testing.ts'

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
