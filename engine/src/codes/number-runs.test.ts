import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRunText, numbersIn, readRuns, runsOf, runText, sizeOf } from './number-runs.ts'

describe('issue numbers as text', () => {
  it('write numbers that follow one another as one run and keep the order of all others', () => {
    expect(runText(runsOf([0n, 1n, 2n, 9n, 4n, 5n]))).toBe('0-2,9,4-5')
    expect(runText([])).toBe('')
  })

  it('come back as they were written (property, seed 3)', () => {
    fc.assert(
      fc.property(fc.array(fc.bigInt({ min: 0n, max: 10n ** 26n })), (numbers) => {
        const text = runText(runsOf(numbers))
        expect([...numbersIn(readRuns(text))]).toEqual(numbers)
        expect(sizeOf(readRuns(text))).toBe(BigInt(numbers.length))
      }),
      { seed: 3 },
    )
  })

  it.each(['5-3', '1,', ',1', '1,,2', '-1', '01', '1-2-3', '1 2', '1.5', `${'9'.repeat(41)}`])('refuse %s', (text) => {
    expect(isRunText(text)).toBe(false)
    expect(() => readRuns(text)).toThrow(RangeError)
  })
})
