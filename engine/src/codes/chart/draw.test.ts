import { describe, expect, it } from 'vitest'
import { CODE_RULES, type Code, type CodeRules } from '../../numeric/code-rules.ts'
import { keyedChance, seededChance } from './chance.ts'
import { codeBox } from './draw.ts'
import { codesWithin } from './price.ts'

const RULES: CodeRules[] = [
  {},
  { maxStep: 1 },
  { maxStep: 2, maxSameInRow: 1 },
  { minDistinct: 3, maxOfOne: 2 },
  { congruence: { modulus: 5, remainder: 3, weights: [1, 2, 3, 4, 1] } },
  { fixed: { '2': 1 }, maxStep: 2, minDistinct: 2, congruence: { modulus: 2, remainder: 1 } },
  { congruence: { modulus: 4, remainder: 1, weights: [2, 2, 2, 2, 2] } },
]
const MASKS = [0b1111, 0b1010, 0b0111, 0b1111, 0b1101]

/** All codes with values of the masks that keep the rules, found by trying each. */
function within(rules: CodeRules, masks: readonly number[]): Code[] {
  const shape = { discs: masks.length, values: 4, rules }
  const all = masks.reduce<number[][]>(
    (codes, mask) => codes.flatMap((code) => [0, 1, 2, 3].filter((v) => mask & (1 << v)).map((v) => [...code, v])),
    [[]],
  )
  return all.filter((code) => CODE_RULES.every((rule) => rule.refusal(code, shape) === undefined))
}

describe('a box of codes', () => {
  it.each(RULES)('holds just the codes that keep %j, each once (complete enumeration)', (rules) => {
    const shape = { discs: 5, values: 4, rules }
    const box = codeBox(shape, MASKS)
    const walk = box.walk(seededChance(3))
    const walked: string[] = []
    for (let code = walk.next(1e6); code !== undefined; code = walk.next(1e6)) walked.push(code.join())
    const expected = within(rules, MASKS).map((code) => code.join())
    expect(walk.ended).toBe(true)
    expect(walked.toSorted()).toEqual(expected.toSorted())
    expect(box.count()).toBe(expected.length)
    const drawn = box.draw(seededChance(4))
    if (expected.length === 0) expect(drawn).toBeUndefined()
    else expect(expected).toContain(drawn?.join())
  })

  it.each(RULES.slice(0, 5))(
    'too large to walk counts the same state by state under %j (complete enumeration)',
    (rules) => {
      // Seven discs of four values are 16 384 codes, more than are gone through.
      const weights = rules.congruence?.weights && [...rules.congruence.weights, 2, 3]
      const longer =
        rules.congruence === undefined ? rules : { congruence: { modulus: 5, remainder: 3, weights: weights ?? [] } }
      const masks = new Array<number>(7).fill(15)
      expect(codesWithin({ discs: 7, values: 4, rules: longer }, masks)).toEqual({
        codes: within(longer, masks).length,
        exact: true,
      })
    },
  )
})

describe('chance', () => {
  const draws = (key: number, chart: string, limit: number, times: number) => {
    const chance = keyedChance(new Uint8Array(16).fill(key), chart)
    return Array.from({ length: times }, () => chance(limit))
  }
  it('under a key is the same each time, and another for another key or chart', () => {
    expect(draws(1, 'A', 1000, 20)).toEqual(draws(1, 'A', 1000, 20))
    expect(draws(1, 'A', 1000, 20)).not.toEqual(draws(2, 'A', 1000, 20))
    expect(draws(1, 'A', 1000, 20)).not.toEqual(draws(1, 'B', 1000, 20))
  })

  it('falls evenly (6000 throws of a die, χ² with 5 degrees below 20.5: one in a thousand above)', () => {
    const thrown = draws(7, 'die', 6, 6000)
    const square = [0, 1, 2, 3, 4, 5].reduce(
      (sum, face) => sum + (thrown.filter((n) => n === face).length - 1000) ** 2 / 1000,
      0,
    )
    expect(square).toBeLessThan(20.5)
  })
})
