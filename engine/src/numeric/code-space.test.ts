import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import combinatorics from '../../../checks/combinatorics.json' with { type: 'json' }
import { Refusal } from '../issue.ts'
import { CODE_RULES, type CodeRules, type CodeShape, codeIssues } from './code-rules.ts'
import { type CodeSpace, openCodeSpace } from './code-space.ts'
import { evenRow } from './whole-numbers.ts'

function opened(discs: number, values: number, rules: CodeRules = {}): CodeSpace {
  const space = openCodeSpace({ discs, values, rules })
  if (space instanceof Refusal) throw new Error(JSON.stringify(space.issues))
  return space
}

/** Every code of so many discs and values, in lexicographic order. */
function* allCodes(discs: number, values: number): Generator<number[]> {
  for (let number = 0; number < values ** discs; number++)
    yield Array.from({ length: discs }, (_, disc) => Math.floor(number / values ** (discs - 1 - disc)) % values)
}

const shapes: fc.Arbitrary<CodeShape> = fc
  .record({ discs: fc.integer({ min: 1, max: 6 }), values: fc.integer({ min: 1, max: 5 }) })
  .filter(({ discs, values }) => values ** discs <= 1024)
  .chain(({ discs, values }) =>
    fc.record({
      discs: fc.constant(discs),
      values: fc.constant(values),
      rules: fc.record(
        {
          maxSameInRow: fc.integer({ min: 1, max: discs }),
          maxStep: fc.integer({ min: 0, max: values }),
          minDistinct: fc.integer({ min: 0, max: values + 1 }),
          maxOfOne: fc.integer({ min: 1, max: discs }),
          fixed: fc.dictionary(
            fc.integer({ min: 0, max: discs - 1 }).map(String),
            fc.integer({ min: 0, max: values - 1 }),
            { maxKeys: 2 },
          ),
          congruence: fc.integer({ min: 1, max: 7 }).chain((modulus) =>
            fc.record(
              {
                modulus: fc.constant(modulus),
                remainder: fc.integer({ min: 0, max: modulus - 1 }),
                weights: fc.array(fc.integer({ min: -9, max: 9 }), { minLength: discs, maxLength: discs }),
              },
              { requiredKeys: ['modulus', 'remainder'] },
            ),
          ),
        },
        { requiredKeys: [] },
      ) as fc.Arbitrary<CodeRules>,
    }),
  )

describe('code space', () => {
  for (const [name, { q, d, terms }] of Object.entries(combinatorics.wordsWithAdjacencyLimit.sequences))
    if (q <= 12)
      it.each(terms.map((term, n) => [n, term] as const).slice(1))(
        `%d discs of ${q} values with steps up to ${d}: %d codes (OEIS ${name})`,
        (n, term) => expect(opened(n, q, { maxStep: d }).usable).toBe(BigInt(term)),
      )

  it('counts 7 discs by how many of 6 values differ as Stirling numbers do (from memory)', () => {
    const counts = combinatorics.exactlyJDistinct.q6n7
    for (const [least, exactly] of Object.entries(counts)) {
      const more = opened(7, 6, { minDistinct: Number(least) + 1 }).usable
      expect(opened(7, 6, { minDistinct: Number(least) }).usable - more).toBe(BigInt(exactly))
    }
  })

  it('has q^(n−1) codes under one congruence, the optimum for two discs apart (Brouwer, rule d = 2)', () => {
    expect(opened(7, 10, { congruence: { modulus: 10, remainder: 3 } }).usable).toBe(1_000_000n)
    expect(opened(7, 6, { congruence: { modulus: 6, remainder: 0 } }).usable).toBe(46_656n)
  })

  it('counts 6^7 codes under each rule as full enumeration did (regression)', () => {
    const { 'maxOccurrencesOfOneValue<=': often, 'maxRun<=': runs } = combinatorics.bruteForceQ6N7
    for (const [most, usable] of Object.entries(often))
      expect(opened(7, 6, { maxOfOne: Number(most) }).usable).toBe(BigInt(usable))
    for (const [most, usable] of Object.entries(runs))
      expect(opened(7, 6, { maxSameInRow: Number(most) }).usable).toBe(BigInt(usable))
    expect(opened(7, 6, { maxStep: 3, maxSameInRow: 2, minDistinct: 3 }).usable).toBe(
      BigInt(combinatorics.bruteForceQ6N7['combined adj<=3, run<=2, distinct>=3']),
    )
    expect(opened(7, 6, { maxStep: 4, maxSameInRow: 2, minDistinct: 3, maxOfOne: 4 }).usable).toBe(
      BigInt(combinatorics.bruteForceQ6N7['combined adj<=4, run<=2, distinct>=3, occ<=60%']),
    )
  })

  it('counts, numbers and refuses exactly as enumeration does, under any rules together', () => {
    fc.assert(
      fc.property(shapes, (shape) => {
        const space = openCodeSpace(shape)
        if (space instanceof Refusal) throw new Error(JSON.stringify(space.issues))
        const kept = [...allCodes(shape.discs, shape.values)].filter(
          (code) => codeIssues(code, shape, 'code').length === 0,
        )
        expect(space.usable).toBe(BigInt(kept.length))
        expect(kept.map((code) => Number(space.rank(code)))).toEqual(kept.map((_, index) => index))
        expect(kept.map((_, index) => space.unrank(BigInt(index)))).toEqual(kept)
        expect(space.unrankAll(evenRow(0n, 1n, kept.length))).toEqual(kept)
        expect(() => space.unrankAll(evenRow(space.usable, 1n, 1))).toThrow(RangeError)
        const out = [...allCodes(shape.discs, shape.values)].find((code) => codeIssues(code, shape, 'code').length > 0)
        if (out !== undefined) expect(() => space.rank(out)).toThrow(RangeError)
      }),
      { seed: 7064, numRuns: 250 },
    )
  })

  it('numbers codes of 24 discs and 12 values back and forth', () => {
    const rulesets: CodeRules[] = [
      {},
      { maxStep: 4, maxSameInRow: 2, minDistinct: 5, congruence: { modulus: 12, remainder: 5 } },
      { maxOfOne: 4, maxSameInRow: 2, minDistinct: 8 },
      { maxOfOne: 3, congruence: { modulus: 2, remainder: 1 } },
    ]
    for (const rules of rulesets) {
      const space = opened(24, 12, rules)
      for (const share of [0n, 1n, 1234567n, 9999999n]) {
        const index = (space.usable - 1n) * share
        const inside = index / 9999999n
        expect(space.rank(space.unrank(inside))).toBe(inside)
      }
      expect(() => space.unrank(space.usable)).toThrow(RangeError)
      expect(() => space.unrank(-1n)).toThrow(RangeError)
      const step = space.usable / 101n
      const spread = space.unrankAll(evenRow(3n, step, 100))
      expect(spread).toEqual(Array.from({ length: 100 }, (_, k) => space.unrank(3n + step * BigInt(k))))
    }
    expect(opened(24, 12).usable).toBe(12n ** 24n)
    expect(opened(24, 12, { maxOfOne: 2 }).usable).toBe(factorial(24n) / 2n ** 12n)
  })

  it('says at once which rules together are out of reach', () => {
    const refused = openCodeSpace({ discs: 24, values: 12, rules: { maxOfOne: 4, maxStep: 5, maxSameInRow: 2 } })
    if (!(refused instanceof Refusal)) throw new Error('counted')
    expect(refused.issues[0]?.code).toBe('out-of-reach')
    expect(refused.issues[0]?.message).toContain('maxOfOne, maxStep, maxSameInRow')
  })

  it('names every contradiction in the rules', () => {
    const refused = openCodeSpace({
      discs: 3,
      values: 4,
      rules: { fixed: { '5': 1, '1': 7 }, congruence: { modulus: 5, remainder: 5, weights: [1, 2] } },
    })
    if (!(refused instanceof Refusal)) throw new Error('counted')
    expect(refused.issues.map(({ path }) => path).sort()).toEqual([
      'rules.congruence.remainder',
      'rules.congruence.weights',
      'rules.fixed.1',
      'rules.fixed.5',
    ])
  })

  it('explains a refusal by the rule and never by the code', () => {
    const shape = {
      discs: 4,
      values: 10,
      rules: {
        maxSameInRow: 1,
        maxStep: 2,
        minDistinct: 4,
        maxOfOne: 1,
        fixed: { '0': 1 },
        congruence: { modulus: 5, remainder: 1 },
      },
    }
    const issues = codeIssues([9, 9, 3, 9], shape, 'code')
    expect(issues).toHaveLength(CODE_RULES.length)
    for (const { name } of CODE_RULES) expect(issues.some(({ message }) => message.includes(name))).toBe(true)
    expect(JSON.stringify(issues)).not.toMatch(/9|\b3\b/)
    expect(codeIssues([9], shape, 'code')).toHaveLength(1)
    expect(codeIssues([9, 9, 3, 10], shape, 'code')[0]?.message).not.toContain('10')
  })
})

const factorial = (n: bigint): bigint => (n <= 1n ? 1n : n * factorial(n - 1n))
