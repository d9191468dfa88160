import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { firstJsonMistake } from './json-text.ts'

describe('the first mistake in a JSON text', () => {
  it.each([
    ['{"a": 1,}', 1, 9, 'a field name in double quotes is missing'],
    ['{"a" 1}', 1, 6, 'a colon is missing'],
    ['[1 2]', 1, 4, 'a comma or ] is missing'],
    ['{\n  "a": 1\n  "b": 2\n}', 3, 3, 'a comma or } is missing'],
    ['{"a": 01}', 1, 8, 'a comma or } is missing'],
    ['{"a": .5}', 1, 7, 'a value is missing'],
    ["{'a': 1}", 1, 2, 'a field name'],
    ['{"a": "x\ny"}', 1, 7, 'a text is not closed'],
    ['{"a": "\\x"}', 1, 7, 'unknown escape'],
    ['{} {}', 1, 4, 'after the end'],
    ['{"a": [1, 2', 1, 12, 'ends too early'],
    ['{"a": 1, "a": 2}', 1, 10, 'stands twice'],
    ['NaN', 1, 1, 'a value is missing'],
  ])('%j is wrong at line %d, column %d: %s', (text, line, column, problem) => {
    const mistake = firstJsonMistake(text)
    expect(mistake).toMatchObject({ line, column })
    expect(mistake?.problem).toContain(problem)
  })

  it('never repeats the text, which may hold a secret', () => {
    expect(firstJsonMistake('{"keyHex": "deadbeefdeadbeef" oops}')?.problem).not.toMatch(/deadbeef|oops/)
  })

  it('agrees with the platform on every JSON value', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), fc.boolean(), (value, indented) => {
        expect(firstJsonMistake(JSON.stringify(value, null, indented ? 2 : undefined))).toBeUndefined()
      }),
      { seed: 20260, numRuns: 500 },
    )
  })

  it('agrees with the platform on whether a damaged JSON text is JSON', () => {
    const damaged = fc
      .tuple(fc.jsonValue({ maxDepth: 4 }), fc.nat(), fc.constantFrom('', ',', '"', '}', '[', '0', '\\', ' '))
      .map(([value, at, put]) => {
        const text = JSON.stringify(value)
        const place = at % text.length
        return text.slice(0, place) + put + text.slice(place + 1)
      })
    fc.assert(
      fc.property(damaged, (text) => {
        const ours = firstJsonMistake(text)
        if (ours?.problem.includes('twice')) return // the platform lets a field stand twice
        let accepted = true
        try {
          JSON.parse(text)
        } catch {
          accepted = false
        }
        expect(ours === undefined).toBe(accepted)
      }),
      { seed: 20260, numRuns: 2000 },
    )
  })

  it('takes 64 levels and refuses 65', () => {
    expect(firstJsonMistake('['.repeat(64) + ']'.repeat(64))).toBeUndefined()
    expect(firstJsonMistake('['.repeat(65) + ']'.repeat(65))?.problem).toContain('nested')
  })

  it('walks a text of 4 million letters and 4 million brackets without running out of stack', () => {
    expect(firstJsonMistake(`"${'a'.repeat(4e6)}"`)).toBeUndefined()
    expect(firstJsonMistake('['.repeat(4e6))?.problem).toContain('nested')
  })
})
