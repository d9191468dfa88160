import { describe, expect, it } from 'vitest'
import rail from '../../../demo/orders/26-044-rail-yard.json'
import { chartTextOf, readChartText } from './chart-order-text.ts'
import { inTreeOrder, keyTree } from './chart-tree.ts'

describe('an order of keys and locks as text', () => {
  it('is read from lines, and from columns of a spreadsheet', () => {
    const { order, troubles } = readChartText('Gate: K1, Master\nStore\tK2\tMaster\r\n\nShed : K2; Master; K2')
    expect(troubles).toEqual([])
    expect(order.keys).toEqual(['K1', 'Master', 'K2'])
    expect(order.locks).toEqual([
      { name: 'Gate', openedBy: ['K1', 'Master'] },
      { name: 'Store', openedBy: ['K2', 'Master'] },
      { name: 'Shed', openedBy: ['K2', 'Master'] },
    ])
  })

  it('names every line that cannot be read, at once', () => {
    const { troubles } = readChartText('Gate: K1\nStore\n: K2\nGate: K3')
    expect(troubles.map(({ line }) => line)).toEqual([2, 3, 4])
    expect(troubles[2]?.message).toContain('line 1')
  })

  it('a line under masters becomes one: every lock with its own key and all masters above it', () => {
    const line = rail.lines.find(({ keying }) => keying.kind === 'master')
    // The demo's own tests check its files; here the line is taken as what it is.
    const { order, troubles } = readChartText(chartTextOf(line as never))
    expect(troubles).toEqual([])
    expect(order.locks).toHaveLength(line?.quantity ?? 0)
    expect(order.keys).toHaveLength((line?.quantity ?? 0) + 4)
    for (const { openedBy } of order.locks) expect(openedBy).toHaveLength(3)
  })
})

describe('the levels of an order', () => {
  const tree = (text: string) => keyTree(readChartText(text).order)

  it('a key stands under the next larger one that opens all its locks', () => {
    const { roots, crossing, levels } = tree('A: a, North, All\nB: b, North, All\nC: c, South, All\nD: d, South, All')
    expect(crossing).toEqual([])
    expect(levels).toBe(3)
    expect(roots.map(({ keys }) => keys)).toEqual([['All']])
    expect(roots[0]?.children.map(({ keys, locks }) => [keys, locks])).toEqual([
      [['North'], 2],
      [['South'], 2],
    ])
    expect(roots[0]?.children[0]?.children.map(({ ownLocks }) => ownLocks)).toEqual([['A'], ['B']])
  })

  it('keys that open the same locks stand together', () => {
    const { roots } = tree('A: a1, a2\nB: a2, a1')
    expect(roots).toEqual([{ keys: ['a1', 'a2'], locks: 2, ownLocks: ['A', 'B'], children: [] }])
  })

  it('a key that opens a part of two groups crosses, and its locks keep their places', () => {
    const { roots, crossing } = tree('A: a, North\nB: b, North, Guard\nC: c, South, Guard\nD: d, South')
    expect(crossing.map(({ key }) => key)).toContain('Guard')
    expect(roots.length).toBeGreaterThan(1)
  })

  it('standing as in the tree, no key and no lock is lost or doubled, crossing or not', () => {
    for (const text of [
      'A: a, North, All\nB: b, North, All\nC: c, South, All',
      'A: a, North\nB: b, North, Guard\nC: c, South, Guard\nD: d, South',
      'A: x, y\nB: y, z\nC: z, x',
    ]) {
      const { order } = readChartText(text)
      const sorted = inTreeOrder(order, keyTree(order))
      expect([...sorted.keys].sort()).toEqual([...order.keys].sort())
      expect(sorted.locks.map(({ name }) => name).sort()).toEqual(order.locks.map(({ name }) => name).sort())
    }
  })

  it('a thousand locks on three levels are put in order in well under a second', () => {
    const text = Array.from({ length: 1000 }, (_, i) => `L${i}: K${i}, G${Math.floor(i / 50)}, M`).join('\n')
    const began = performance.now()
    const { levels } = tree(text)
    expect(levels).toBe(3)
    expect(performance.now() - began).toBeLessThan(1000)
  })
})
