import { unsafe } from '@noble/ciphers/aes.js'

/** AES under one key over many blocks of 16 bytes, each by itself (the code book mode that other modes are built from). */
export interface BlockCipher {
  /** Enciphers every block of `from` into the same place of `into`. Both are whole blocks, as long as each other. */
  encipher(from: Uint8Array, into: Uint8Array): void
}

/** @param key 16, 24 or 32 bytes */
export type BlockCipherMaker = (key: Uint8Array) => BlockCipher

export const BLOCK_BYTES = 16

/** AES in plain TypeScript: the tables of @noble/ciphers, the key expanded once. Runs anywhere. */
export function plainBlockCipher(key: Uint8Array): BlockCipher {
  const schedule = unsafe.expandKeyLE(key)
  return {
    encipher(from, into) {
      const source = new DataView(from.buffer, from.byteOffset, from.byteLength)
      const target = new DataView(into.buffer, into.byteOffset, into.byteLength)
      for (let at = 0; at < from.length; at += BLOCK_BYTES) {
        const { s0, s1, s2, s3 } = unsafe.encrypt(
          schedule,
          source.getUint32(at, true),
          source.getUint32(at + 4, true),
          source.getUint32(at + 8, true),
          source.getUint32(at + 12, true),
        )
        target.setUint32(at, s0, true)
        target.setUint32(at + 4, s1, true)
        target.setUint32(at + 8, s2, true)
        target.setUint32(at + 12, s3, true)
      }
    },
  }
}

let maker: BlockCipherMaker = plainBlockCipher

/**
 * Says what enciphers blocks in bulk, where the machine has a faster AES than {@link plainBlockCipher}. Results are the same
 * either way: a maker that gives another answer for the known block of FIPS 197 is refused.
 *
 * @throws Error when what it makes is not AES
 */
export function provideBlockCipher(provided: BlockCipherMaker): void {
  for (const length of [16, 24, 32]) {
    const key = Uint8Array.from({ length }, (_, i) => i)
    // Two blocks, so that one which chains them is found out.
    const blocks = Uint8Array.from({ length: 2 * BLOCK_BYTES }, (_, i) => 17 * (i % BLOCK_BYTES))
    const [made, wanted] = [new Uint8Array(blocks.length), new Uint8Array(blocks.length)]
    provided(key).encipher(blocks, made)
    plainBlockCipher(key).encipher(blocks, wanted)
    if (made.some((byte, i) => byte !== wanted[i])) throw new Error('The block cipher that was provided is not AES.')
  }
  maker = provided
}

/** The block cipher in use for a key. */
export function blockCipher(key: Uint8Array): BlockCipher {
  return maker(key)
}
