import { describe, expect, it } from 'vitest'
import { numberText, parseNumberText, splitPasted, stepNumberText } from './number-text.ts'

describe('figures as typed', () => {
  it.each([
    ['2.65', 2.65],
    ['2,65', 2.65],
    [' 12 000,5 ', 12000.5],
    ['12\u202f000', 12000],
    ['\u221240', -40],
    ['-40', -40],
    ['.5', 0.5],
    ['5.', 5],
    ['1e-6', 1e-6],
    ['4.1 × 10^-8', 4.1e-8],
  ])('%s is read as %d', (typed, value) => expect(parseNumberText(typed)).toBe(value))

  it.each(['', 'abc', '1.2.3', '1,2,3', '12 mm', '--3', '1e999', 'NaN', 'Infinity'])('%s is not a figure', (typed) =>
    expect(parseNumberText(typed)).toBeUndefined(),
  )

  it('what a field shows reads back as the same number', () => {
    for (const value of [0, -40, 2.6, 1e-12, 1 / 3, 123456.789]) expect(parseNumberText(numberText(value))).toBe(value)
  })

  it('a step moves the last printed decimal and keeps decimals and comma', () => {
    expect(stepNumberText('2.60', 1)).toBe('2.61')
    expect(stepNumberText('2,60', -1, 10)).toBe('2,50')
    expect(stepNumberText('0', -1)).toBe('\u22121')
    expect(stepNumberText('0.1', -1)).toBe('0.0')
    expect(stepNumberText('abc', 1)).toBe('abc')
  })

  it('a pasted column is split, whichever separator the spreadsheet used', () => {
    expect(splitPasted('1.5\n2,5\t3\r\n4')).toEqual(['1.5', '2,5', '3', '4'])
    expect(splitPasted('1, 2, 3')).toEqual(['1', '2', '3'])
  })
})
