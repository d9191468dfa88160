import { describe, expect, it } from 'vitest'
import harbour from '../../../../demo/designs/hb50.json'
import type { Requirement } from '../../finding.ts'
import type { Design } from '../design.ts'
import { chainFinding } from './chain-finding.ts'
import { releaseChain } from './detent-chains.ts'

const design = harbour as unknown as Design
const requirement: Requirement = {
  id: 'release',
  title: 'Release clearance',
  operation: 'HB50/close',
  sense: 'at-least',
  limit: 0.05,
  unit: 'mm',
  reference: 0.05,
  askedBy: 'test',
}
const changed = (change: (design: Design) => void) => {
  const copy = structuredClone(design)
  change(copy)
  return copy
}
const judged = (of: Design) => chainFinding(requirement, releaseChain(of), { key: 'hot', temperatureC: 70 }, of)

describe('a chain that falls short says what turns it round, and does', () => {
  // The recess as shallow as to fall short by some µm, whatever the demo holds.
  const short = changed((d) => {
    d.barrel.recessDepth = { nominalMm: 2.71, plusMm: 0.03, minusMm: 0.03, sigmaMm: 0.009 }
  })
  const { verdict, remedy = '' } = judged(short)

  it('by moving a size, no further than needed', () => {
    expect(verdict).toBe('falls-short')
    const to = Number(/barrel recess from [\d.]+ to ([\d.]+) mm/.exec(remedy)?.[1])
    const deepened = (nominalMm: number) =>
      judged(
        changed((d) => {
          d.barrel.recessDepth = { ...short.barrel.recessDepth, nominalMm }
        }),
      ).verdict
    expect(deepened(to)).toBe('holds')
    expect(deepened(to - 0.01)).toBe('falls-short')
  })

  it('by holding the cheapest measured scatter closer, no closer than needed', () => {
    const to = Number(/scatter of barrel recess depth down from 9 to ([\d.]+) µm/.exec(remedy)?.[1]) / 1000
    const held = (sigmaMm: number) =>
      judged(
        changed((d) => {
          d.barrel.recessDepth = { ...short.barrel.recessDepth, sigmaMm }
        }),
      ).verdict
    // Written to two figures.
    expect(held(to - 0.000_05)).toBe('holds')
    expect(held(to + 0.000_1)).toBe('falls-short')
  })

  it('by a closer tolerance where nothing was measured and every part may lie at its limit', () => {
    const worstCase = (nominalMm: number, toleranceMm: number) =>
      changed((d) => {
        d.requirements.judgeChains = 'worst case'
        d.barrel.recessDepth = { nominalMm, plusMm: toleranceMm, minusMm: toleranceMm }
      })
    // Ten µm too shallow for the limit.
    const nominalMm = 2.79 - ((judged(worstCase(2.79, 0.03)).predicted?.value ?? 0) - 0.04)
    const worst = worstCase(nominalMm, 0.03)
    const found = judged(worst)
    expect(found.verdict).toBe('falls-short')
    const [, name, plus] = /hold (.+) to ±([\d.]+) µm/.exec(found.remedy ?? '') ?? []
    expect(name).toBe('barrel recess depth')
    const to = Number(plus) / 1000
    expect(judged(worstCase(nominalMm, to + 0.000_5)).verdict).toBe('falls-short')
    const closer = worstCase(nominalMm, to - 0.000_5)
    expect(judged(closer).verdict).toBe('holds')
  })
})
