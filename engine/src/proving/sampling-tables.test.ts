import published from '@haspwright/checks/sampling/iso2859-1-single.json' with { type: 'json' }
import { describe, expect, it } from 'vitest'
import { AQLS, codeLetter, LEVELS, planAt, SEVERITIES } from './sampling-tables.ts'

describe('the sampling tables against the published ones (MIL-STD-105E, data of a public statistics package)', () => {
  it('has the same AQLs and levels', () => {
    expect(published.aql.map(Number)).toEqual([...AQLS])
    expect(published.levels).toEqual([...LEVELS])
  })

  it.each(SEVERITIES)('%s: every cell of all letters and AQLs, arrows followed', (severity) => {
    let cells = 0
    for (const [letter, row] of Object.entries(published[severity]))
      for (const [aql, plan] of Object.entries(row)) {
        const { sampleSize, accept, reject } = planAt(severity, letter, Number(aql))
        expect([sampleSize, accept, reject], `${severity} ${letter} ${aql}`).toEqual(plan)
        cells++
      }
    expect(cells).toBe(16 * 26)
  })

  it('gives the published code letter at both ends of every class of lot size', () => {
    published.lots.forEach(([low, high], lotClass) => {
      LEVELS.forEach((level, i) => {
        const letter = published.codeLetters[lotClass]?.[i]
        expect(codeLetter(low ?? 0, level)).toBe(letter)
        expect(codeLetter(high ?? 1e9, level)).toBe(letter)
      })
    })
  })
})
