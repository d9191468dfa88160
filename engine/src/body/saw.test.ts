import { describe, expect, it } from 'vitest'
import { answer } from '../calculation.ts'
import { saw } from './saw.ts'

function sawn(input: unknown) {
  const result = answer(saw, input)
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result
}

describe('body.saw', () => {
  it('asks for what the section and the rate need and for nothing else, all at once', () => {
    const paths = (input: unknown) => {
      const result = answer(saw, input)
      return result.ok ? [] : result.issues.map(({ path, code }) => `${path} ${code}`)
    }
    expect(paths({ section: 'flat', widthMm: 10 })).toEqual(['heightMm missing', 'rateCm2PerMin missing'])
    expect(paths({ section: 'round', widthMm: 10, heightMm: 5, rateCm2PerMin: 20 })).toEqual(['heightMm contradiction'])
  })

  it('takes 52 cm²/min, the low end of the row, for 1030–1055 steel and says it is a starting value (blade guide)', () => {
    const { output, notices } = sawn({ section: 'round', widthMm: 20, material: 'medium-carbon-steel' })
    expect(output.rateCm2PerMin).toBe(52)
    expect(notices.join(' ')).toContain('measure it')
    const measured = sawn({ section: 'round', widthMm: 20, material: 'medium-carbon-steel', rateCm2PerMin: 30 })
    expect(measured.output.rateCm2PerMin).toBe(30)
    expect(measured.notices).toEqual([])
  })

  it('a blade that cannot finish one cut makes none', () => {
    const flat = { section: 'flat', widthMm: 50, heightMm: 20, rateCm2PerMin: 20 }
    expect(sawn({ ...flat, bladeLifeCm2: 9.99 }).output.cutsPerBlade).toBe(0)
    expect(sawn({ ...flat, bladeLifeCm2: 10 }).output.cutsPerBlade).toBe(1)
  })

  it('takes as long for a round as for a flat bar of the same area', () => {
    const round = sawn({ section: 'round', widthMm: 20, rateCm2PerMin: 15 })
    const flat = sawn({ section: 'flat', widthMm: 10 * Math.PI, heightMm: 10, rateCm2PerMin: 15 })
    expect(round.output.minutesPerCut / flat.output.minutesPerCut).toBeCloseTo(1, 12)
  })
})
