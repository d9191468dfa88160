import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { STEEL_NAMES } from '../materials/steels.ts'
import { coldToughness } from './cold-toughness.ts'

const ask = (input: object) => {
  const result = answer(coldToughness, input)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('heat.cold-toughness', () => {
  it.each(STEEL_NAMES)('%s at −40 °C: not known, test; no figure is given for it', (steel) => {
    for (const temperC of [200, 450, 600]) {
      const { output } = ask({ steel, temperC, useC: -40 })
      expect(output.answer).toBe('not known: test')
      expect(output.kvJ).toBeUndefined()
      // The one figure at −40 °C is of another steel and says so.
      for (const { testedAtC, kind } of output.figures) expect(testedAtC === -40).toBe(kind === 'another steel')
      expect(output.advice).toContain('-40 °C')
    }
  })

  it('41Cr4: every row of the card at room temperature (technical card, line KV)', () => {
    const printed = [16, 24, 24, 15, 15, 26, 30, 38, 46, 90, 124, 132]
    for (const [i, kvJ] of printed.entries())
      expect(ask({ steel: '41Cr4', temperC: 150 + 50 * i, useC: 20 }).output.kvJ).toBe(kvJ)
  })

  it('does not stretch a row: within 10 K of its tempering and 5 K of its test it counts, beyond it does not', () => {
    const known = (temperC: number, useC: number) => ask({ steel: '41Cr4', temperC, useC }).output.answer
    expect([known(510, 20), known(511, 20), known(500, 15), known(500, 14)]).toEqual([
      'known',
      'not known: test',
      'known',
      'not known: test',
    ])
  })

  it('shows the rows on either side and the embrittling range', () => {
    const { output } = ask({ steel: '41Cr4', temperC: 320, useC: -40 })
    expect(output.figures.filter(({ kind }) => kind === 'measured').map(({ temperC }) => temperC)).toEqual([300, 350])
    expect(output.embrittling.join(' ')).toContain('250 to 400 °C')
  })

  it('has nothing to show for a steel nobody has a figure of, and says so', () => {
    const { output } = ask({ steel: '30MnB5', useC: 20 })
    expect([output.answer, output.figures]).toEqual(['not known: test', []])
  })
})
