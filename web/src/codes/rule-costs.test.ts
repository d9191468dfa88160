import { describe, expect, it } from 'vitest'
import { ruleCosts, ruleText, shareOf } from './rule-costs.ts'

const costsOf = (shape: Parameters<typeof ruleCosts>[0]) => {
  const costs = ruleCosts(shape)
  if (!costs.ok) throw new Error('The rules contradict themselves.')
  return costs
}

describe('what a rule costs', () => {
  it('a rule alone takes all that is not usable: 7 discs of 10 values, sum divisible by 10, costs nine tenths', () => {
    const { total, usable, costs } = costsOf({
      discs: 7,
      values: 10,
      rules: { congruence: { modulus: 10, remainder: 0 } },
    })
    expect([total, usable]).toEqual(['10000000', '1000000'])
    expect(costs).toEqual([
      { rule: 'congruence', words: 'sum of the values leaves 0 by 10', without: '10000000', takes: '9000000' },
    ])
  })

  it('with others, each is told by what it takes beside them: checked against all codes of 4 discs, 3 values', () => {
    const { usable, costs } = costsOf({ discs: 4, values: 3, rules: { maxSameInRow: 2, minDistinct: 2, maxStep: 1 } })
    const all = Array.from({ length: 81 }, (_, n) => [27, 9, 3, 1].map((place) => Math.floor(n / place) % 3))
    const rules = {
      maxSameInRow: (code: number[]) => !code.some((v, i) => i > 1 && v === code[i - 1] && v === code[i - 2]),
      minDistinct: (code: number[]) => new Set(code).size >= 2,
      maxStep: (code: number[]) => code.every((v, i) => i === 0 || Math.abs(v - (code[i - 1] ?? v)) <= 1),
    }
    const counted = (names: (keyof typeof rules)[]) => all.filter((code) => names.every((name) => rules[name](code)))
    const names = Object.keys(rules) as (keyof typeof rules)[]
    expect(usable).toBe(`${counted(names).length}`)
    for (const rule of names)
      expect(costs.find((cost) => cost.rule === rule)?.without).toBe(
        `${counted(names.filter((name) => name !== rule)).length}`,
      )
  })

  it('rules that contradict themselves are issues, and an empty set of rules costs nothing', () => {
    expect(ruleCosts({ discs: 3, values: 3, rules: { fixed: { '7': 1 } } }).ok).toBe(false)
    expect(costsOf({ discs: 3, values: 3, rules: {} }).costs).toEqual([])
    expect(ruleText('fixed', { fixed: {} })).toBeUndefined()
    expect(ruleText('fixed', { fixed: { '0': 1 } })).toBe('1 disc has a fixed value')
  })

  it('shares hold for counts that no double holds', () => {
    expect(shareOf('1', '3')).toBeCloseTo(1 / 3, 8)
    expect(shareOf('123456789012345678901234567890', '246913578024691357802469135780')).toBe(0.5)
    expect(shareOf('1', '0')).toBe(0)
  })
})
