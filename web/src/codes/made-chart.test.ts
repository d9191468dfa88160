import { describe, expect, it } from 'vitest'
import { addedTo, askedOf, extendedOrder, keepsAll, namesOfMade, readMadeChart } from './made-chart.ts'

const chart = {
  keys: [
    { name: 'M', code: [0, 0, 0], opens: 2 },
    { name: 'a', code: [1, 1, 0], opens: 1 },
    { name: 'b', code: [2, 2, 0], opens: 1 },
  ],
  locks: [
    { name: 'A', gates: [[0, 1], [0, 1], [0]] },
    { name: 'B', gates: [[0, 2], [2, 0], [0]] },
  ],
}
const made = readMadeChart(JSON.stringify(chart))
if (made === undefined) throw new Error('The chart could not be read.')

describe('a chart made before', () => {
  it('is read from what the calculation gives, and tells by its cuts who opens what', () => {
    expect(namesOfMade(made)).toEqual({
      keys: ['M', 'a', 'b'],
      locks: [
        { name: 'A', openedBy: ['M', 'a'] },
        { name: 'B', openedBy: ['M', 'b'] },
      ],
    })
  })

  it.each([
    ['no JSON', 'keys: a'],
    ['nothing in it', '{}'],
    ['a key without a code', '{"keys":[{"name":"a"}],"locks":[]}'],
    ['a cut beyond any disc', '{"keys":[{"name":"a","code":[1,12]}],"locks":[]}'],
    ['gates that are no lists', '{"keys":[],"locks":[{"name":"A","gates":[1,2]}]}'],
  ])('is refused with %s', (_, text) => {
    expect(readMadeChart(text)).toBeUndefined()
  })

  it('keeps its keys on a lock that is typed anew, and adds those typed', () => {
    const typed = {
      keys: ['M', 'c', 'd'],
      locks: [
        { name: 'A', openedBy: ['c'] },
        { name: 'C', openedBy: ['M', 'd'] },
      ],
    }
    const names = namesOfMade(made)
    const extended = extendedOrder(names, typed)
    expect(extended.locks).toEqual([
      { name: 'A', openedBy: ['M', 'a', 'c'] },
      { name: 'B', openedBy: ['M', 'b'] },
      { name: 'C', openedBy: ['M', 'd'] },
    ])
    expect(askedOf(extended, typed).locks.map(({ name }) => name)).toEqual(['A', 'C'])
    expect(addedTo(names, typed)).toEqual({ keys: ['c', 'd'], locks: ['C'] })
  })

  it('is kept when every cut and gate is as it was, in whatever order, and not when one is missing or another', () => {
    expect(keepsAll({ keys: [...chart.keys].reverse(), locks: chart.locks }, made)).toBe(true)
    expect(keepsAll({ keys: chart.keys.slice(1), locks: chart.locks }, made)).toBe(false)
    const [first, ...rest] = chart.locks
    if (first === undefined) throw new Error('no lock')
    expect(
      keepsAll(
        {
          keys: chart.keys,
          locks: [
            {
              ...first,
              gates: [
                [0, 1],
                [0, 1],
                [0, 2],
              ],
            },
            ...rest,
          ],
        },
        made,
      ),
    ).toBe(false)
  })
})
