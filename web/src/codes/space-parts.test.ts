import { describe, expect, it } from 'vitest'
import { codesLeft, spaceParts } from './space-parts.ts'

const space = {
  design: 'HB50',
  title: 'Harbour 50',
  space: 'abc',
  discs: 20,
  values: 10,
  total: '100000000000000000000',
  givenOut: '7',
  withdrawn: '2',
  imported: '3',
  passedOver: '1',
  reserved: '10',
  orders: [],
  withdrawals: [],
  reservations: [],
  imports: [],
}

describe('the parts of a code space', () => {
  it('are all its codes, past what a number holds, each once', () => {
    const usable = '90000000000000000001'
    const parts = spaceParts(space, usable)
    expect(parts.reduce((sum, { count }) => sum + BigInt(count), 0n)).toBe(BigInt(space.total))
    expect(codesLeft(space, usable)).toBe('89999999999999999978')
  })
})
