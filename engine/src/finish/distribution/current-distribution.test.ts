import { describe, expect, it } from 'vitest'
import { answerLong } from '../../calculation.ts'
import { currentDistribution } from './current-distribution.ts'
import { bodySection, shackleSection } from './ready-outlines.ts'
import type { Section } from './section.ts'

async function solved(section: Section, polarizationOhmCm2 = 0) {
  const result = await answerLong(currentDistribution, {
    ...(structuredClone(section) as object),
    conductivitySPerM: 10,
    polarizationOhmCm2,
  })
  if (!result.ok) throw new Error(JSON.stringify(result.issues))
  return result.output
}

const channel = (aMm: number): Section => ({
  tankWidthMm: 400,
  tankHeightMm: 100,
  walls: [
    { side: 'left', fromMm: 50 - aMm, toMm: 50 + aMm, role: 'part' },
    { side: 'right', fromMm: 0, toMm: 100, role: 'anode' },
  ],
  circles: [],
  rectangles: [],
})
const place = { anodeToAnodeMm: 600, pitchMm: 120 }
const shackle = shackleSection(place, { barDiameterMm: 10, insideWidthMm: 30 })
const body = bodySection(place, { widthMm: 60, thicknessMm: 25, edgeRadiusMm: 1 })

describe('finish.current-distribution', () => {
  it.each([5, 15, 35, 45])(
    'a strip of half width %d mm in a channel of 100 mm: middle over mean (2a/H)/sin(πa/H) (conformal map; panels halved)',
    async (a) => {
      const { thinnestToMean, thinnestAt } = await solved(channel(a))
      expect(Math.abs(thinnestToMean - (2 * a) / 100 / Math.sin((Math.PI * a) / 100))).toBeLessThan(0.004)
      expect(Math.abs(thinnestAt.yMm - 50)).toBeLessThan(a / 10)
    },
  )

  it('follows j ∝ cos(πx/H)/√(sin²(πa/H) − sin²(πx/H)) along the strip (conformal map, mean over each panel)', async () => {
    const { outlines } = await solved(channel(25))
    for (const { yMm, localToMean } of outlines[0]?.points ?? []) {
      const x = Math.abs(yMm - 50)
      if (x > 20) continue
      const s = Math.sin((Math.PI * x) / 100)
      const exact = (Math.cos((Math.PI * x) / 100) / Math.sqrt(0.5 - s * s)) * 0.5
      expect(Math.abs(localToMean / exact - 1)).toBeLessThan(0.01)
    }
  })

  it('plate against plate is even, polarized or not', async () => {
    const { thinnestToMean, thickestToMean } = await solved(channel(50), 3)
    expect(thinnestToMean).toBeGreaterThan(0.995)
    expect(thickestToMean).toBeLessThan(1.005)
  })

  it('polarization evens out: the more, the nearer to one (Wagner number)', async () => {
    let before = 0
    for (const slope of [0, 1, 5, 30, 1000]) {
      const { thinnestToMean, wagnerNumber } = await solved(body, slope)
      expect(wagnerNumber).toBeCloseTo(slope / 60, 9)
      expect(thinnestToMean).toBeGreaterThan(before)
      before = thinnestToMean
    }
    expect(before).toBeGreaterThan(0.95)
  })

  it('a shackle is thinnest where its legs face each other, a body in the middle of a face; both legs alike', async () => {
    const legs = await solved(shackle)
    expect(Math.abs(Math.abs(legs.thinnestAt.yMm - 60) - 15)).toBeLessThan(1)
    for (const { meanToMean } of legs.outlines) expect(meanToMean).toBeCloseTo(1, 3)
    const face = await solved(body)
    expect(face.thinnestToMean).toBeLessThan(0.8)
    expect(face.thickestToMean).toBeGreaterThan(1.5)
    expect(face.extraTimePercent).toBeCloseTo(100 * (1 / face.thinnestToMean - 1), 9)
    for (const { refinementChange, balanceError } of [legs, face]) {
      expect(refinementChange).toBeLessThan(0.02)
      expect(balanceError).toBeLessThan(0.01)
    }
  })

  it('a thief at the edges takes current from them, and a shield before them too', async () => {
    const bare = await solved(body)
    const withThieves = await solved({
      ...body,
      circles: [20, 100].map((yMm) => ({ role: 'thief', xMm: 300, yMm, diameterMm: 8 })),
    })
    expect(withThieves.toThievesPercent).toBeGreaterThan(5)
    expect(withThieves.thickestToMean).toBeLessThan(bare.thickestToMean)
    const shielded = await solved({
      ...body,
      rectangles: [
        ...body.rectangles,
        ...[270, 330].flatMap((xMm) =>
          [22, 98].map((yMm) => ({ role: 'shield' as const, xMm, yMm, widthMm: 4, heightMm: 30, cornerRadiusMm: 1 })),
        ),
      ],
    })
    expect(shielded.thickestToMean).toBeLessThan(bare.thickestToMean)
    expect(shielded.toThievesPercent).toBe(0)
  })

  it('refuses outlines that touch, stick out or are missing, all at once', async () => {
    const result = await answerLong(currentDistribution, {
      tankWidthMm: 100,
      tankHeightMm: 100,
      walls: [
        { side: 'left', fromMm: 0, toMm: 101, role: 'shield' },
        { side: 'top', fromMm: 10, toMm: 50, role: 'shield' },
        { side: 'top', fromMm: 40, toMm: 60, role: 'shield' },
      ],
      circles: [
        { role: 'shield', xMm: 50, yMm: 50, diameterMm: 20 },
        { role: 'shield', xMm: 70.9, yMm: 50, diameterMm: 20 },
      ],
      rectangles: [{ role: 'shield', xMm: 5, yMm: 5, widthMm: 10, heightMm: 4, cornerRadiusMm: 3 }],
      conductivitySPerM: 10,
      polarizationOhmCm2: 0,
    })
    expect(result.ok ? [] : result.issues.map(({ path }) => path)).toEqual([
      'circles',
      'walls',
      'walls[0].toMm',
      'walls[2].fromMm',
      'rectangles[0].cornerRadiusMm',
      'rectangles[0]',
      'circles[1]',
    ])
  })
})
