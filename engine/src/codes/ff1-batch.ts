import { unsafe } from '@noble/ciphers/aes.js'
import { BLOCK_BYTES, type BlockCipher, blockCipher } from './block-cipher.ts'

/**
 * FF1 over many strings at once, each string as the numbers of its two halves: the first ⌊length / 2⌋ digits and the rest.
 * Enciphers in place. The same permutation as of `ff1`.
 */
export interface Ff1Batch {
  /** radix^(digits of the second half): the whole string is the number first · this + second. */
  readonly secondModulus: number
  /** Turns the first `count` strings into their ciphers. */
  encipher(halves: Halves, count: number): void
  /** The inverse. */
  decipher(halves: Halves, count: number): void
}

export interface Halves {
  readonly first: Float64Array
  readonly second: Float64Array
}

const ROUNDS = 10
/** Strings that go through a round together: 64 KiB of blocks, which a processor keeps at hand. */
const TOGETHER = 4096
/** Halves stay below this: a remainder times 256 and a byte more is then exact in a double. */
const LARGEST_HALF = 2 ** 45

/**
 * FF1 of NIST SP 800-38G in bulk, for halves below 2⁴⁵; `undefined` for larger ones, which go one by one through `ff1`.
 *
 * A round is one AES block a string: with halves of at most six bytes the message of the pseudo-random function ends in one
 * block that holds the round number and the half, and all blocks before it (P and the tweak) are chained once for all. The
 * blocks of a batch stand in one array and are enciphered by one call; halves are whole numbers in doubles, and the remainder
 * of the output by radix^m is taken 16 or 8 bits at a time, multiplying by the reciprocal.
 *
 * Key, tweak, radix and length are those `ff1` has accepted.
 */
export function ff1Batch(
  { key, tweak, radix, length }: { key: Uint8Array; tweak: Uint8Array; radix: number; length: number },
  cipher: BlockCipher = blockCipher(key),
): Ff1Batch | undefined {
  const u = Math.floor(length / 2)
  const [firstModulus, secondModulus] = [radix ** u, radix ** (length - u)]
  if (secondModulus > LARGEST_HALF) return undefined
  const halfBytes = Math.ceil(Math.ceil(Math.log2(secondModulus)) / 8)
  const outputBytes = 4 * Math.ceil(halfBytes / 4) + 4
  const prefix = chained({ key, tweak, radix, length, halfBytes })
  const roundByte = BLOCK_BYTES - halfBytes - 1
  const blocks = new Uint8Array(TOGETHER * BLOCK_BYTES)
  const output = new Uint8Array(TOGETHER * BLOCK_BYTES)
  for (let k = 0; k < TOGETHER; k++) blocks.set(prefix, k * BLOCK_BYTES)

  /** changed ± F(round, steering) modulo radix^m, for the strings from … from + count − 1. */
  const round = (
    number: number,
    { changed, steering, from, count, sign }: RoundPart,
  ): void => {
    for (let k = 0; k < count; k++) {
      const at = k * BLOCK_BYTES
      blocks[at + roundByte] = (prefix[roundByte] ?? 0) ^ number
      let rest = steering[from + k] ?? 0
      for (let place = BLOCK_BYTES - 1; place > roundByte; place--) {
        const above = Math.floor(rest / 256)
        blocks[at + place] = (prefix[place] ?? 0) ^ (rest - 256 * above)
        rest = above
      }
    }
    const whole = count === TOGETHER
    cipher.encipher(
      whole ? blocks : blocks.subarray(0, count * BLOCK_BYTES),
      whole ? output : output.subarray(0, count * BLOCK_BYTES),
    )
    const modulus = number % 2 === 0 ? firstModulus : secondModulus
    const add = modulus <= 2 ** 37 ? wordsRemainder : bytesRemainder
    const reciprocal = 1 / modulus
    for (let k = 0; k < count; k++) {
      const remainder = add(output, { at: k * BLOCK_BYTES, length: outputBytes, modulus, reciprocal })
      const sum = (changed[from + k] ?? 0) + sign * remainder
      changed[from + k] = sum >= modulus ? sum - modulus : sum < 0 ? sum + modulus : sum
    }
  }

  return {
    secondModulus,
    encipher({ first, second }, all) {
      for (let from = 0; from < all; from += TOGETHER) {
        const count = Math.min(TOGETHER, all - from)
        // Halves change places every round; after ten they stand where they began.
        for (let i = 0; i < ROUNDS; i += 2) {
          round(i, { changed: first, steering: second, from, count, sign: 1 })
          round(i + 1, { changed: second, steering: first, from, count, sign: 1 })
        }
      }
    },
    decipher({ first, second }, all) {
      for (let from = 0; from < all; from += TOGETHER) {
        const count = Math.min(TOGETHER, all - from)
        for (let i = ROUNDS - 1; i > 0; i -= 2) {
          round(i, { changed: second, steering: first, from, count, sign: -1 })
          round(i - 1, { changed: first, steering: second, from, count, sign: -1 })
        }
      }
    },
  }
}

interface RoundPart {
  readonly changed: Float64Array
  readonly steering: Float64Array
  readonly from: number
  readonly count: number
  readonly sign: 1 | -1
}

interface Output {
  readonly at: number
  readonly length: number
  readonly modulus: number
  readonly reciprocal: number
}

/** Big-endian bytes modulo a number up to 2³⁷, two bytes at a time. */
function wordsRemainder(bytes: Uint8Array, { at, length, modulus, reciprocal }: Output): number {
  let remainder = 0
  for (let k = at; k < at + length; k += 2) {
    const next = remainder * 65_536 + (((bytes[k] ?? 0) << 8) | (bytes[k + 1] ?? 0))
    remainder = next - Math.floor(next * reciprocal) * modulus
    // The reciprocal is rounded: the quotient may be one off.
    if (remainder >= modulus) remainder -= modulus
    else if (remainder < 0) remainder += modulus
  }
  return remainder
}

/** The same up to 2⁴⁵, a byte at a time. */
function bytesRemainder(bytes: Uint8Array, { at, length, modulus, reciprocal }: Output): number {
  let remainder = 0
  for (let k = at; k < at + length; k++) {
    const next = remainder * 256 + (bytes[k] ?? 0)
    remainder = next - Math.floor(next * reciprocal) * modulus
    if (remainder >= modulus) remainder -= modulus
    else if (remainder < 0) remainder += modulus
  }
  return remainder
}

/**
 * What the last block is added to before it is enciphered: the chain over P and the tweak, and of the last block itself the
 * end of the tweak, its zeros, with round number and half still zero.
 */
function chained({
  key,
  tweak,
  radix,
  length,
  halfBytes,
}: {
  key: Uint8Array
  tweak: Uint8Array
  radix: number
  length: number
  halfBytes: number
}): Uint8Array {
  const padding = (BLOCK_BYTES - ((tweak.length + halfBytes + 1) % BLOCK_BYTES)) % BLOCK_BYTES
  const message = new Uint8Array(BLOCK_BYTES + tweak.length + padding + 1 + halfBytes)
  message.set([1, 2, 1, radix >> 16, (radix >> 8) & 255, radix & 255, ROUNDS, Math.floor(length / 2) % 256])
  const view = new DataView(message.buffer)
  view.setUint32(8, length)
  view.setUint32(12, tweak.length)
  message.set(tweak, BLOCK_BYTES)
  const schedule = unsafe.expandKeyLE(key)
  const state = new Uint8Array(BLOCK_BYTES)
  for (let at = 0; at < message.length; at += BLOCK_BYTES) {
    for (let k = 0; k < BLOCK_BYTES; k++) state[k] = (state[k] ?? 0) ^ (message[at + k] ?? 0)
    if (at + BLOCK_BYTES < message.length) unsafe.encryptBlock(schedule, state)
  }
  return state
}
