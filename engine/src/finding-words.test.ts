import { describe, expect, it } from 'vitest'
import { type Evidence, type Finding, finding } from './finding.ts'
import { gapWords, limitWords, predictedWords, shareWords, spokenMargin } from './finding-words.ts'

const clearance: Finding = {
  id: 'HB50/close/release-cold',
  title: 'Release clearance at −40 °C',
  operation: 'HB50/close',
  sense: 'at-least',
  limit: 0.05,
  unit: 'mm',
  decimals: 3,
  askedBy: 'the design',
  verdict: 'falls-short',
  predicted: { value: 0.046 },
  margin: -0.004,
  marginShare: -0.08,
}
const NONE: Evidence = { calculation: 'body.cut-plan', input: {}, working: '', sources: [], notices: [] }
const plain = (words: string) => words.replaceAll('\u202f', ' ')

describe('a margin in words', () => {
  it('value and limit are printed to the same decimals, the gap in micrometres where it is small', () => {
    expect(plain(predictedWords(clearance))).toBe('0.046 mm')
    expect(plain(limitWords(clearance))).toBe('≥ 0.050 mm')
    expect(plain(gapWords(clearance))).toBe('4 µm short')
    expect(plain(gapWords({ ...clearance, verdict: 'holds', margin: 0.25 }))).toBe('0.25 mm left')
    expect(gapWords({ ...clearance, verdict: 'holds', margin: 0 })).toBe('just at the limit')
  })

  it('a chance that is all but one is told by what is missing, never rounded to one', () => {
    const { decimals: _, ...rest } = clearance
    const ownKey: Finding = {
      ...rest,
      scale: 'missing-share',
      unit: '',
      limit: 0.999999,
      predicted: { value: 1 - 3e-7 },
    }
    expect(plain(predictedWords(ownKey))).toBe('1 − 3 × 10⁻⁷')
    expect(plain(limitWords(ownKey))).toBe('≥ 1 − 10⁻⁶')
  })

  it('of things that must all comply, those that do are no close thing, and those that fail are counted', () => {
    const lots = { ...clearance, unit: 'lots', limit: 6, reference: 6, scale: 'all-or-none' } as const
    const held = (value: number) => finding(lots, { predicted: { value }, evidence: NONE })
    expect([held(6).verdict, held(6).marginShare, gapWords(held(6))]).toEqual(['holds', 1, 'all of them'])
    expect([held(4).verdict, held(4).marginShare, plain(gapWords(held(4)))]).toEqual([
      'falls-short',
      -1 / 3,
      '2 lots short',
    ])
  })

  it('a share has its sign, a figure that stays short, and a question mark where nothing is known', () => {
    expect([0.04, -0.083, 0, 0.125, 25].map((share) => plain(shareWords(share)))).toEqual([
      '+4.0 %',
      '−8.3 %',
      '0 %',
      '+13 %',
      'over +999 %',
    ])
    expect(shareWords(undefined)).toBe('?')
  })

  it('read aloud it names station, value, limit and verdict', () => {
    expect(plain(spokenMargin(clearance, 'Close'))).toBe(
      'Release clearance at −40 °C, Close: 0.046 mm, at least 0.050 mm is asked for, falls short, 4 µm short',
    )
  })
})
