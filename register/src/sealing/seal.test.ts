import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { RegisterTrouble } from '../register-trouble.ts'
import { type SealedRow, seal, unseal } from './seal.ts'

const KEY = '0f1e2d3c4b5a69788796a5b4c3d2e1f0'.repeat(2)
const row: SealedRow = { table: 'sealed_documents', worksId: 'works', key: ['chart', 'tower', 1] }
const chart = Buffer.from('{"cuts":[3,1,4,1,5]}')

describe('a seal', () => {
  it('gives back what went in, whatever it was, and never looks the same twice', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (plain) => {
        const [one, two] = [seal(KEY, row, plain), seal(KEY, row, plain)]
        expect(one.equals(two)).toBe(false)
        expect([...unseal(KEY, row, one)]).toEqual([...plain])
      }),
      { seed: 6, numRuns: 100 },
    )
  })

  it('does not open in another row, works or table, or under another works key, and tells nothing of what is in it', () => {
    const sealed = seal(KEY, row, chart)
    const others: [string, SealedRow][] = [
      [KEY, { ...row, key: ['chart', 'tower', 2] }],
      [KEY, { ...row, key: ['chart', 'tower,1'] }],
      [KEY, { ...row, worksId: 'other' }],
      [KEY, { ...row, table: 'charts' }],
      ['00'.repeat(32), row],
    ]
    for (const [key, other] of others) expect(() => unseal(key, other, sealed)).toThrow(RegisterTrouble)
    expect(sealed.includes('cuts')).toBe(false)
  })

  it('does not open when any one bit of it was changed, or a piece is missing', () => {
    const sealed = seal(KEY, row, chart)
    for (let i = 0; i < sealed.length; i++) {
      const changed = Buffer.from(sealed)
      changed[i] = (changed[i] ?? 0) ^ 1
      expect(() => unseal(KEY, row, changed), `byte ${i}`).toThrow(RegisterTrouble)
    }
    for (const length of [0, 1, 28, sealed.length - 1])
      expect(() => unseal(KEY, row, sealed.subarray(0, length))).toThrow(RegisterTrouble)
  })
})
