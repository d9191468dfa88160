import { answerAny, currentDistribution, type Design } from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import { coatOutlines, SHADES, shadeOf } from './thickness-geometry.ts'
import { type AIDS, type Distribution, distributionInput, PARTS, RACK_ASSUMED } from './thickness-section.ts'

const design = harbour as unknown as Design

async function spread(part: (typeof PARTS)[number], aid: (typeof AIDS)[number]) {
  const result = await answerAny(currentDistribution, distributionInput(design, part, aid, RACK_ASSUMED))
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output as Distribution // the calculation's own schema
}

describe('the coat over the outline', () => {
  it.each(PARTS)('lies outside the metal all round, and has the mean it was given: %s', async (part) => {
    const output = await spread(part, 'none')
    for (const coat of coatOutlines(output, 30)) {
      const middle = {
        x: coat.reduce((s, p) => s + p.x, 0) / coat.length,
        y: coat.reduce((s, p) => s + p.y, 0) / coat.length,
      }
      for (const { x, y, out, um } of coat) {
        expect(out[0] * (x - middle.x) + out[1] * (y - middle.y)).toBeGreaterThan(0)
        expect(Math.hypot(...out)).toBeCloseTo(1, 9)
        expect(um).toBeGreaterThan(0)
      }
    }
  })

  it('thief rods take current, and bring the thickest edge of the body down', async () => {
    const [bare, thieves] = [await spread('body', 'none'), await spread('body', 'thieves')]
    expect(bare.toThievesPercent).toBe(0)
    expect(thieves.toThievesPercent).toBeGreaterThan(5)
    expect(thieves.thickestToMean).toBeLessThan(bare.thickestToMean)
  })

  it('shades go from the thinnest to the thickest without a gap', () => {
    expect(shadeOf(10, [10, 40])).toBe(0)
    expect(shadeOf(40, [10, 40])).toBe(SHADES - 1)
    expect(shadeOf(25, [10, 40])).toBe(SHADES / 2)
    expect(shadeOf(10, [10, 10])).toBe(0)
  })
})
