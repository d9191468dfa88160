import { describe, expect, it } from 'vitest'
import { isPublished } from '../source.ts'
import { EXPANDING_MATERIALS, expansionOf } from './expansion.ts'

describe('linear expansion', () => {
  it.each([
    ['steel-1040', 11.3],
    ['steel-1045', 11.6],
    ['steel-4140', 12.3],
    ['brass-c36000', 20.5],
  ])('%s is %f millionths per kelvin (Callister, Table B.6)', (material, millionths) => {
    const found = expansionOf(material)
    expect((found?.perK ?? 0) * 1e6).toBeCloseTo(millionths, 9)
    expect(found !== undefined && isPublished(found.source)).toBe(true)
  })

  it('says which values are remembered, and does not know what it does not list', () => {
    const remembered = EXPANDING_MATERIALS.filter((material) => {
      const found = expansionOf(material)
      return found !== undefined && !isPublished(found.source)
    })
    expect(remembered).toEqual(['brass-cw614n', 'chromium'])
    expect(expansionOf('unobtainium')).toBeUndefined()
    expect(expansionOf('toString')).toBeUndefined()
  })

  it('lies between 4 and 30 millionths for every metal listed', () => {
    for (const material of EXPANDING_MATERIALS) {
      const perK = expansionOf(material)?.perK ?? 0
      expect(perK).toBeGreaterThan(4e-6)
      expect(perK).toBeLessThan(30e-6)
    }
  })
})
