import { cmac } from '@noble/ciphers/aes.js'
import { describe, expect, it } from 'vitest'
import { bytesOfHex } from './ff1.ts'
import { deriveKey } from './works-keys.ts'

describe('keys derived from the key of the works', () => {
  const worksKey = bytesOfHex('2b7e151628aed2a6abf7158809cf4f3c')

  it('stand on a CMAC that gives the published value for the empty message (RFC 4493, example 1)', () => {
    expect(cmac(new Uint8Array(0), worksKey)).toEqual(bytesOfHex('bb1d6929e95937287fa37d129b756746'))
  })

  it('are 256 bits, always the same, one for each purpose and each works', () => {
    const other = bytesOfHex('2b7e151628aed2a6abf7158809cf4f3d')
    expect(deriveKey(worksKey, 'issue order')).toHaveLength(32)
    expect(deriveKey(worksKey, 'issue order')).toEqual(deriveKey(worksKey, 'issue order'))
    expect(deriveKey(worksKey, 'issue order')).not.toEqual(deriveKey(worksKey, 'blind codes'))
    expect(deriveKey(worksKey, 'issue order')).not.toEqual(deriveKey(other, 'issue order'))
  })
})
