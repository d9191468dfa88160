import { unsafe } from '@noble/ciphers/aes.js'

/** AES under one key over many blocks of 16 bytes, each by itself (the code book mode that other modes are built from). */
export interface BlockCipher {
  /** Enciphers every block of `from` into the same place of `into`. Both are whole blocks, as long as each other. */
  encipher(from: Uint8Array, into: Uint8Array): void
}

/** @param key 16, 24 or 32 bytes */
export type BlockCipherMaker = (key: Uint8Array) => BlockCipher

export const BLOCK_BYTES = 16

/** The tables take words of this byte order; on a machine of the other the bytes are turned about and back. */
const LITTLE_ENDIAN = new Uint8Array(Uint32Array.of(1).buffer)[0] === 1

/**
 * AES in plain TypeScript: the tables of @noble/ciphers, the key expanded once. Runs anywhere.
 *
 * Blocks begin at a multiple of four bytes, as every array of their own does.
 */
export function plainBlockCipher(key: Uint8Array): BlockCipher {
  const schedule = unsafe.expandKeyLE(key)
  return {
    encipher(from, into) {
      const source = wordsOf(from)
      const target = wordsOf(into)
      if (!LITTLE_ENDIAN) turn(source)
      for (let at = 0; at < source.length; at += 4) {
        const { s0, s1, s2, s3 } = unsafe.encrypt(
          schedule,
          source[at] ?? 0,
          source[at + 1] ?? 0,
          source[at + 2] ?? 0,
          source[at + 3] ?? 0,
        )
        target[at] = s0
        target[at + 1] = s1
        target[at + 2] = s2
        target[at + 3] = s3
      }
      if (!LITTLE_ENDIAN) for (const words of [source, target]) turn(words)
    },
  }
}

const wordsOf = ({ buffer, byteOffset, byteLength }: Uint8Array) => new Uint32Array(buffer, byteOffset, byteLength / 4)

/** Turns the bytes of every word about. */
function turn(words: Uint32Array): void {
  for (const [at, word] of words.entries())
    words[at] = (word << 24) | ((word & 0xff00) << 8) | ((word >>> 8) & 0xff00) | (word >>> 24)
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
