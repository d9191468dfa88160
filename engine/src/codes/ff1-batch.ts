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
  const halfBytes = Math.ceil((BigInt(secondModulus) - 1n).toString(2).length / 8)
  const outputBytes = 4 * Math.ceil(halfBytes / 4) + 4
  const prefix = chained({ key, tweak, radix, length, halfBytes })
  const roundByte = BLOCK_BYTES - halfBytes - 1
  const blocks = new Uint8Array(TOGETHER * BLOCK_BYTES)
  const output = new Uint8Array(TOGETHER * BLOCK_BYTES)
  const remainder = new Float64Array(TOGETHER)
  for (let k = 0; k < TOGETHER; k++) blocks.set(prefix, k * BLOCK_BYTES)

  /** changed ± F(round, steering) modulo radix^m, for the strings from … from + count − 1. */
  const round = (number: number, { changed, steering, from, count, sign }: RoundPart): void => {
    fillBlocks(blocks, { prefix, roundByte, number, steering, from, count })
    const bytes = count * BLOCK_BYTES
    if (count === TOGETHER) cipher.encipher(blocks, output)
    else cipher.encipher(blocks.subarray(0, bytes), output.subarray(0, bytes))
    const modulus = number % 2 === 0 ? firstModulus : secondModulus
    const remainders = modulus <= 2 ** 37 ? wordRemainders : byteRemainders
    remainders(output, { into: remainder, count, length: outputBytes, modulus })
    for (let k = 0; k < count; k++) {
      const sum = (changed[from + k] ?? 0) + sign * (remainder[k] ?? 0)
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

/** Writes the round number and the half into the last block of every message: prefix ⊕ [round] ‖ NUM(half). */
function fillBlocks(
  blocks: Uint8Array,
  {
    prefix,
    roundByte,
    number,
    steering,
    from,
    count,
  }: { prefix: Uint8Array; roundByte: number; number: number } & Pick<RoundPart, 'steering' | 'from' | 'count'>,
): void {
  const marked = (prefix[roundByte] ?? 0) ^ number
  // The last four bytes as one word, so that most halves need no division.
  const lastFour = new DataView(prefix.buffer).getUint32(BLOCK_BYTES - 4)
  for (let k = 0; k < count; k++) {
    const at = k * BLOCK_BYTES
    const half = steering[from + k] ?? 0
    const above = half < 4_294_967_296 ? 0 : Math.floor(half / 4_294_967_296)
    const word = (half - above * 4_294_967_296) ^ lastFour
    blocks[at + 12] = word >>> 24
    blocks[at + 13] = word >>> 16
    blocks[at + 14] = word >>> 8
    blocks[at + 15] = word
    if (roundByte < 11) {
      blocks[at + 11] = (prefix[11] ?? 0) ^ above
      blocks[at + 10] = (prefix[10] ?? 0) ^ (above >>> 8)
    }
    // Over what the word and the bytes above it have written of the prefix: short halves are zero there.
    blocks[at + roundByte] = marked
  }
}

interface Remainders {
  readonly into: Float64Array
  readonly count: number
  /** Bytes of a block's output that count. */
  readonly length: number
  readonly modulus: number
}

/** Each block's first bytes, big-endian, modulo a number up to 2³⁷: two bytes at a time. */
function wordRemainders(output: Uint8Array, { into, count, length, modulus }: Remainders): void {
  const reciprocal = 1 / modulus
  for (let block = 0; block < count; block++) {
    const end = block * BLOCK_BYTES + length
    let remainder = 0
    for (let k = end - length; k < end; k += 2) {
      const next = remainder * 65_536 + (((output[k] ?? 0) << 8) | (output[k + 1] ?? 0))
      remainder = next - Math.floor(next * reciprocal) * modulus
      // The reciprocal is rounded: the quotient may be one off.
      if (remainder >= modulus) remainder -= modulus
      else if (remainder < 0) remainder += modulus
    }
    into[block] = remainder
  }
}

/** The same up to 2⁴⁵, a byte at a time. */
function byteRemainders(output: Uint8Array, { into, count, length, modulus }: Remainders): void {
  const reciprocal = 1 / modulus
  for (let block = 0; block < count; block++) {
    const end = block * BLOCK_BYTES + length
    let remainder = 0
    for (let k = end - length; k < end; k++) {
      const next = remainder * 256 + (output[k] ?? 0)
      remainder = next - Math.floor(next * reciprocal) * modulus
      if (remainder >= modulus) remainder -= modulus
      else if (remainder < 0) remainder += modulus
    }
    into[block] = remainder
  }
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
