import { describe, expect, it } from 'vitest'
import { directCode } from './direct-code.ts'

describe('direct codes', () => {
  it('are the cuts in order with their check: 572 → 5724 (Damm, thesis), A12425 with the check of MOD 37,36', () => {
    expect(directCode([5, 7, 2], { values: 10 })).toBe('5724')
    // MOD 37,36 worked by hand for 1 2: P = 36 → (36 + 1) mod 36 = 1 → 2 → (2 + 2) = 4 → 8; check 37 − 8 = 29 = T.
    expect(directCode([1, 2], { values: 12 })).toBe('12T')
    expect(directCode([10, 11], { values: 12 })).toMatch(/^AB[0-9A-Z]$/)
  })
})
