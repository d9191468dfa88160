import { unsafe } from '@noble/ciphers/aes.js'

/** FF1's least domain by the later guidance (SP 800-38G Rev. 1): radix^length at least one million. */
export const LEAST_DOMAIN = 1_000_000
export const LARGEST_RADIX = 65_536

/** A keyed permutation of all strings of one length over one radix. */
export interface Ff1 {
  encipher(digits: readonly number[]): number[]
  decipher(digits: readonly number[]): number[]
}

const ROUNDS = 10
const BLOCK = 16

/**
 * Format-preserving encryption FF1 of NIST SP 800-38G, over AES of 128, 192 or 256 bits, for one key, tweak, radix and length.
 *
 * All that does not change from call to call is done once: key schedule, and the chained blocks of P and of the tweak up to
 * the last block, which alone holds the round number and the half that changes. Halves below 2³⁷ are reckoned in doubles.
 *
 * @param key 16, 24 or 32 bytes
 * @throws RangeError for a radix outside 2 … 65 536 or a domain below one million
 */
export function ff1({
  key,
  tweak,
  radix,
  length,
}: {
  key: Uint8Array
  tweak: Uint8Array
  radix: number
  length: number
}): Ff1 {
  if (!(radix >= 2 && radix <= LARGEST_RADIX)) throw new RangeError('The radix must be 2 to 65536.')
  if (length < 2 || BigInt(radix) ** BigInt(length) < BigInt(LEAST_DOMAIN))
    throw new RangeError('FF1 needs at least a million strings to permute.')
  const u = Math.floor(length / 2)
  const v = length - u
  const round = roundFunction({ key, tweak, radix, length })
  const small = radix ** v < 2 ** 37
  const half = small ? smallHalf(radix) : largeHalf(radix)

  const run = (digits: readonly number[], backwards: boolean): number[] => {
    if (digits.length !== length) throw new RangeError('The string has the wrong length.')
    let a = digits.slice(0, u)
    let b = digits.slice(u)
    for (let i = 0; i < ROUNDS; i++) {
      if (backwards) {
        const number = ROUNDS - 1 - i
        const shifted = half.shift(b, round(number, a), { length: number % 2 === 0 ? u : v, backwards })
        b = a
        a = shifted
      } else {
        const shifted = half.shift(a, round(i, b), { length: i % 2 === 0 ? u : v, backwards })
        a = b
        b = shifted
      }
    }
    return [...a, ...b]
  }
  return { encipher: (digits) => run(digits, false), decipher: (digits) => run(digits, true) }
}

/** Steps 6 i–iii: the pseudo-random bytes S of round i from one half. */
function roundFunction({
  key,
  tweak,
  radix,
  length,
}: {
  key: Uint8Array
  tweak: Uint8Array
  radix: number
  length: number
}): (i: number, half: readonly number[]) => Uint8Array {
  const schedule = unsafe.expandKeyLE(key)
  const u = Math.floor(length / 2)
  const v = length - u
  const b = byteLength(radix, v)
  const d = 4 * Math.ceil(b / 4) + 4
  const padding = (BLOCK - ((tweak.length + b + 1) % BLOCK)) % BLOCK
  const message = new Uint8Array(BLOCK + tweak.length + padding + 1 + b)
  message.set([1, 2, 1, radix >> 16, (radix >> 8) & 255, radix & 255, ROUNDS, u % 256])
  const view = new DataView(message.buffer)
  view.setUint32(8, length)
  view.setUint32(12, tweak.length)
  message.set(tweak, BLOCK)
  const roundAt = message.length - b - 1
  // The blocks before the one with the round number are the same in every round of every call.
  const fixedBlocks = Math.floor(roundAt / BLOCK)
  const prefix = new Uint8Array(BLOCK)
  for (let block = 0; block < fixedBlocks; block++) chain(prefix, message, block * BLOCK)

  function chain(state: Uint8Array, from: Uint8Array, at: number): void {
    for (let k = 0; k < BLOCK; k++) state[k] = (state[k] ?? 0) ^ (from[at + k] ?? 0)
    unsafe.encryptBlock(schedule, state)
  }

  const s = new Uint8Array(Math.ceil(d / BLOCK) * BLOCK)
  return (i, half) => {
    message[roundAt] = i
    writeNumber(half, { radix, into: message, from: roundAt + 1 })
    const state = s.subarray(0, BLOCK)
    state.set(prefix)
    for (let block = fixedBlocks; block * BLOCK < message.length; block++) chain(state, message, block * BLOCK)
    for (let block = 1; block * BLOCK < d; block++) {
      const further = s.subarray(block * BLOCK, (block + 1) * BLOCK)
      further.set(state)
      // R ⊕ [j]: the block's number in its last bytes.
      further[BLOCK - 1] = (further[BLOCK - 1] ?? 0) ^ (block & 255)
      further[BLOCK - 2] = (further[BLOCK - 2] ?? 0) ^ (block >> 8)
      unsafe.encryptBlock(schedule, further)
    }
    return s.subarray(0, d)
  }
}

/** Bytes that hold every number of v digits. */
function byteLength(radix: number, v: number): number {
  return Math.ceil((BigInt(radix) ** BigInt(v) - 1n).toString(2).length / 8)
}

/** NUM_radix of the digits, big-endian, to the end of `into`. */
function writeNumber(
  digits: readonly number[],
  { radix, into, from }: { radix: number; into: Uint8Array; from: number },
): void {
  into.fill(0, from)
  for (const digit of digits) {
    let over = digit
    for (let k = into.length - 1; k >= from; k--) {
      const sum = (into[k] ?? 0) * radix + over
      into[k] = sum & 255
      over = sum >>> 8
    }
  }
}

/** Steps 6 iv–vii: half ± y modulo radix^length, as digits. */
interface Half {
  shift(half: readonly number[], y: Uint8Array, how: { length: number; backwards: boolean }): number[]
}

function smallHalf(radix: number): Half {
  return {
    shift(half, y, { length, backwards }) {
      const modulus = radix ** length
      let remainder = 0
      for (let k = 0; k < y.length; k += 2)
        remainder = (remainder * 65536 + (y[k] ?? 0) * 256 + (y[k + 1] ?? 0)) % modulus
      let number = 0
      for (const digit of half) number = number * radix + digit
      number = (number + (backwards ? modulus - remainder : remainder)) % modulus
      const digits = new Array<number>(length)
      for (let k = length - 1; k >= 0; k--) {
        digits[k] = number % radix
        number = Math.floor(number / radix)
      }
      return digits
    },
  }
}

function largeHalf(radix: number): Half {
  const base = BigInt(radix)
  return {
    shift(half, y, { length, backwards }) {
      const modulus = base ** BigInt(length)
      let pseudorandom = 0n
      for (const byte of y) pseudorandom = (pseudorandom << 8n) | BigInt(byte)
      let number = 0n
      for (const digit of half) number = number * base + BigInt(digit)
      number = (number + (backwards ? -pseudorandom : pseudorandom)) % modulus
      if (number < 0n) number += modulus
      const digits = new Array<number>(length)
      for (let k = length - 1; k >= 0; k--) {
        digits[k] = Number(number % base)
        number /= base
      }
      return digits
    },
  }
}

/** Bytes of a hexadecimal text of even length. */
export function bytesOfHex(hex: string): Uint8Array {
  return Uint8Array.from({ length: hex.length / 2 }, (_, i) => Number.parseInt(hex.slice(2 * i, 2 * i + 2), 16))
}
