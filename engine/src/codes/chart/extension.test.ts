import { describe, expect, it } from 'vitest'
import { expectChart, mastered, type Order, placed, refused } from './chart.testing.ts'

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
