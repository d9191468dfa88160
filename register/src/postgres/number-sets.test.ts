import fc from 'fast-check'
import { expect, it } from 'vitest'
import { setOf, setText } from '../space-state.ts'
import { multirangeOf, runsOfMultirange } from './number-sets.ts'

it('writes sets as half-open ranges, and the empty set', () => {
  expect(multirangeOf('7,0-4,5')).toBe('{[0,6),[7,8)}')
  expect(multirangeOf('')).toBe('{}')
  expect(runsOfMultirange('{[0,6),[7,8)}')).toBe('0-5,7')
  expect(runsOfMultirange('{}')).toBe('')
})

it('gives back every set, however large its numbers', () => {
  fc.assert(
    fc.property(fc.array(fc.bigInt({ min: 0n, max: 10n ** 39n })), (numbers) => {
      const set = setText(setOf(...numbers.map(String)))
      expect(runsOfMultirange(multirangeOf(set))).toBe(set)
    }),
    { seed: 6, numRuns: 100 },
  )
})
