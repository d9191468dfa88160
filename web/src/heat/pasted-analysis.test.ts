import { describe, expect, it } from 'vitest'
import { readPastedAnalysis } from './pasted-analysis.ts'

describe('a pasted analysis', () => {
  it.each([
    ['pairs with points', 'C 0.41 Si 0.27 Mn 0.78'],
    ['pairs with decimal commas and percent', 'C 0,41 % Si 0,27 % Mn 0,78 %'],
    ['pairs with signs', 'C: 0.41; Si = 0.27; Mn | 0.78'],
    ['two rows from a table', 'C\tSi\tMn\n0.41\t0.27\t0.78'],
    ['two rows apart by commas', 'C,Si,Mn\n0.41,0.27,0.78'],
  ])('is read from %s', (_, text) => {
    const { values, unread } = readPastedAnalysis(text)
    expect(Object.fromEntries(Object.entries(values).map(([k, v]) => [k, v.replace(',', '.')]))).toEqual({
      C: '0.41',
      Si: '0.27',
      Mn: '0.78',
    })
    expect(unread).toEqual([])
  })

  it('names what it does not understand: words, numbers without an element, elements no formula asks for, second values', () => {
    const { values, unread } = readPastedAnalysis('Charge 48211 C 0.41 Al 0.025 C 0.44 Mn')
    expect(values).toEqual({ C: '0.41' })
    expect(unread).toEqual(['Charge', '48211', 'Al 0.025', 'C 0.44', 'Mn'])
  })

  it('nothing gives nothing', () => expect(readPastedAnalysis(' \n ')).toEqual({ values: {}, unread: [] }))
})
