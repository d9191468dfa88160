import { describe, expect, it } from 'vitest'
import { lockWords, sensitivityWords, yieldWords } from './chain-words.ts'

describe('the words of a chain', () => {
  it('give a share of locks as many decimals as it has nines', () => {
    expect([0.5, 0.9973, 0.99911, 0.9999996, 1].map(yieldWords)).toEqual([
      '50.0 %',
      '99.73 %',
      '99.911 %',
      'over 99.9999 %',
      '100 %',
    ])
  })

  it('say which way a dimension moves the result', () => {
    expect([1, -1, 0.5, -2].map(sensitivityWords)).toEqual(['+', '−', '+ ½ ×', '− 2 ×'])
  })

  it('give the simulated yield with its error, and say where no draw missed', () => {
    expect(lockWords({ temperatureC: 20, percent: 99.34, errorPercent: 0.11 })).toBe('99.34 ± 0.11 %')
    expect(lockWords({ temperatureC: 20, percent: 100, errorPercent: 0 })).toBe('100.00 %, none drawn misses')
  })
})
