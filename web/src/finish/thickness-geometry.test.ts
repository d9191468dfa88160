import {
  answerAny,
  bathFor,
  currentDistribution,
  type Design,
  nickelSpread,
  PLATED_PARTS,
  type PlatedPart,
  sectionOnRack,
  type Works,
} from '@haspwright/engine'
import { describe, expect, it } from 'vitest'
import harbour from '../../../demo/designs/hb50.json' with { type: 'json' }
import worksFile from '../../../demo/works.json' with { type: 'json' }
import { ASSUMED_BATH } from './assumed-line.ts'
import { coatOutlines, SHADES, shadeOf } from './thickness-geometry.ts'
import { type AIDS, type Distribution, distributionInput } from './thickness-section.ts'

const design = harbour as unknown as Design // read and checked by the engine's own tests
const works = worksFile as unknown as Works // likewise
const bath = bathFor(works, 'nickel') ?? ASSUMED_BATH

async function spread(part: PlatedPart, aid: (typeof AIDS)[number]) {
  const { tankWidthMm, tankHeightMm, conductivitySPerM, polarizationOhmCm2 } = sectionOnRack(design, part, bath)
  const rack = { tankWidthMm, tankHeightMm, conductivitySPerM, polarizationOhmCm2 }
  const result = await answerAny(currentDistribution, distributionInput(design, part, aid, rack))
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output as Distribution // the calculation's own schema
}

describe('the coat over the outline', () => {
  it.each(PLATED_PARTS)('lies outside the metal all round, and has the mean it was given: %s', async (part) => {
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

  it('without an aid the figure is the plan’s, over the part where it is least', async () => {
    const planned = nickelSpread(design, works)
    if (!planned.ok) throw new Error(planned.because)
    const output = await spread(planned.part, 'none')
    expect(output.thinnestToMean).toBe(planned.thinnestToMean)
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
