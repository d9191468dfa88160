import { unsafe } from '@noble/ciphers/aes.js'
import { shapeText } from '../numeric/code-rules.ts'
import type { CodeSpace } from '../numeric/code-space.ts'
import {
  LIMB,
  limbsOf,
  setWholeNumber,
  type WholeNumbers,
  wholeNumberAt,
  wholeNumbers,
} from '../numeric/whole-numbers.ts'
import { type Ff1, ff1, LARGEST_RADIX, LEAST_DOMAIN } from './ff1.ts'
import { type Ff1Batch, ff1Batch, type Halves } from './ff1-batch.ts'

/** A keyed order in which the codes of a space are given out: a permutation of the whole space. */
export interface IssueOrder {
  /**
   * The index (as of `codes.unrank`) of the code that is given out under an issue number.
   * @throws RangeError outside 0 … usable − 1
   */
  indexOf(issueNumber: bigint): bigint
  /** The issue number of an index: the inverse. */
  numberOf(index: bigint): bigint
  /**
   * The indices of many issue numbers, in their order: the same as one by one, many times faster.
   * @throws RangeError when one is outside 0 … usable − 1
   */
  indicesOf(issueNumbers: WholeNumbers): WholeNumbers
}

/** Spaces up to this size are shuffled as a whole; larger ones are walked. */
const SHUFFLED_UP_TO = 65_536n

/**
 * The issue order of a space under a key. The space's rules are the tweak: two spaces under one key are in unrelated orders.
 *
 * Above 65 536 usable codes: FF1 (NIST SP 800-38G) on indices, over the least domain of an even number of digits that holds
 * the space and at least the million strings that FF1 needs, walking the cycle until an index inside the space is met. A
 * permutation of the domain so walked is a permutation of the space. The expected number of steps is domain ÷ usable: at
 * most 10⁶ ÷ 65 537 ≈ 15, and within a few per cent of 1 from a million codes on.
 *
 * Up to 65 536 usable codes, where walking would grow long: a Fisher–Yates shuffle of all indices, drawn without bias from
 * AES in counter mode. It is exact and every order is possible.
 *
 * @param key 16, 24 or 32 bytes
 */
export function issueOrder({ usable, shape }: CodeSpace, key: Uint8Array): IssueOrder {
  const tweak = new Uint8Array(Array.from(`issue ${shapeText(shape)}`, (c) => c.charCodeAt(0)))
  const order = usable <= SHUFFLED_UP_TO ? shuffled(Number(usable), { key, tweak }) : walked(usable, { key, tweak })
  const within = (n: bigint) => {
    if (n < 0n || n >= usable) throw new RangeError('There is no code of that number.')
    return n
  }
  return {
    indexOf: (n) => order.indexOf(within(n)),
    numberOf: (index) => order.numberOf(within(index)),
    indicesOf(numbers) {
      const end = limbsOf(usable)
      for (const [k, high] of numbers.high.entries())
        if (!isBelow(high, numbers.low[k] ?? 0, end)) throw new RangeError('There is no code of that number.')
      return order.indicesOf(numbers)
    },
  }
}

const isBelow = (high: number, low: number, end: { high: number; low: number }) =>
  high < end.high || (high === end.high && low >= 0 && low < end.low)

function walked(usable: bigint, { key, tweak }: { key: Uint8Array; tweak: Uint8Array }): IssueOrder {
  const { radix, length } = leastDomain(usable)
  const cipher = ff1({ key, tweak, radix, length })
  const walk = (from: bigint, direction: keyof Ff1) => {
    let number = from
    do number = numberFrom(cipher[direction](digitsFrom(number, { radix, length })), radix)
    while (number >= usable)
    return number
  }
  const indexOf = (n: bigint) => walk(n, 'encipher')
  const batch = ff1Batch({ key, tweak, radix, length })
  return {
    indexOf,
    numberOf: (index) => walk(index, 'decipher'),
    indicesOf: (numbers) => (batch === undefined ? oneByOne(numbers, indexOf) : walkedTogether(numbers, usable, batch)),
  }
}

/** For spaces whose halves do not fit the bulk path: beyond 2⁹⁰ codes, which no mechanism has. */
function oneByOne(numbers: WholeNumbers, indexOf: (n: bigint) => bigint): WholeNumbers {
  const indices = wholeNumbers(numbers.high.length)
  for (let k = 0; k < numbers.high.length; k++) setWholeNumber(indices, k, indexOf(wholeNumberAt(numbers, k)))
  return indices
}

/** Enciphers all, then again those that left the space, until none is outside. */
function walkedTogether(numbers: WholeNumbers, usable: bigint, batch: Ff1Batch): WholeNumbers {
  const all = numbers.high.length
  const indices = wholeNumbers(all)
  const halves = { first: new Float64Array(all), second: new Float64Array(all) }
  const { split, join } = halving(batch.secondModulus, usable)
  const places = Int32Array.from({ length: all }, (_, k) => k)
  for (let k = 0; k < all; k++) split(numbers, k, { halves, at: k })
  for (let walking = all; walking > 0; ) {
    batch.encipher(halves, walking)
    let outside = 0
    for (let k = 0; k < walking; k++) {
      const place = places[k] ?? 0
      if (join(halves, k, { into: indices, at: place })) continue
      halves.first[outside] = halves.first[k] ?? 0
      halves.second[outside] = halves.second[k] ?? 0
      places[outside++] = place
    }
    walking = outside
  }
  return indices
}

type Places<From, Into> = (from: From, k: number, to: Into) => void

/** A number as two halves and back; back only when it is inside the space. In doubles as far as these are exact. */
function halving(
  secondModulus: number,
  usable: bigint,
): {
  split: Places<WholeNumbers, { halves: Halves; at: number }>
  join: (from: Halves, k: number, to: { into: WholeNumbers; at: number }) => boolean
} {
  if (secondModulus ** 2 <= Number.MAX_SAFE_INTEGER) {
    const end = Number(usable)
    return {
      split({ high, low }, k, { halves, at }) {
        const number = (high[k] ?? 0) * LIMB + (low[k] ?? 0)
        const first = Math.floor(number / secondModulus)
        halves.first[at] = first
        halves.second[at] = number - first * secondModulus
      },
      join({ first, second }, k, { into, at }) {
        const number = (first[k] ?? 0) * secondModulus + (second[k] ?? 0)
        if (number >= end) return false
        const high = Math.floor(number / LIMB)
        into.high[at] = high
        into.low[at] = number - high * LIMB
        return true
      },
    }
  }
  const modulus = BigInt(secondModulus)
  return {
    split(numbers, k, { halves, at }) {
      const number = wholeNumberAt(numbers, k)
      halves.first[at] = Number(number / modulus)
      halves.second[at] = Number(number % modulus)
    },
    join({ first, second }, k, { into, at }) {
      const number = BigInt(first[k] ?? 0) * modulus + BigInt(second[k] ?? 0)
      if (number >= usable) return false
      setWholeNumber(into, at, number)
      return true
    },
  }
}

/** Fewest digits, an even number, and then the least radix that hold the space and a million. */
function leastDomain(usable: bigint): { radix: number; length: number } {
  const held = Math.max(Number(usable), LEAST_DOMAIN)
  for (let length = 2; ; length += 2) {
    let radix = Math.max(2, Math.floor(held ** (1 / length)) - 1)
    while (radix <= LARGEST_RADIX && (BigInt(radix) ** BigInt(length) < usable || radix ** length < LEAST_DOMAIN))
      radix++
    if (radix <= LARGEST_RADIX) return { radix, length }
  }
}

function digitsFrom(number: bigint, { radix, length }: { radix: number; length: number }): number[] {
  const digits = new Array<number>(length)
  const base = BigInt(radix)
  let rest = number
  for (let k = length - 1; k >= 0; k--) {
    digits[k] = Number(rest % base)
    rest /= base
  }
  return digits
}

function numberFrom(digits: readonly number[], radix: number): bigint {
  return digits.reduce((number, digit) => number * BigInt(radix) + BigInt(digit), 0n)
}

function shuffled(usable: number, secret: { key: Uint8Array; tweak: Uint8Array }): IssueOrder {
  const below = uniform(secret)
  const indices = Array.from({ length: usable }, (_, i) => i)
  for (let last = usable - 1; last > 0; last--) {
    const other = below(last + 1)
    const kept = indices[last] ?? 0
    indices[last] = indices[other] ?? 0
    indices[other] = kept
  }
  let numbers: Int32Array | undefined
  const inverse = () => {
    const made = new Int32Array(usable)
    for (const [n, index] of indices.entries()) made[index] = n
    return made
  }
  return {
    indexOf: (n) => BigInt(indices[Number(n)] ?? 0),
    numberOf(index) {
      numbers ??= inverse()
      return BigInt(numbers[Number(index)] ?? 0)
    },
    indicesOf: ({ low }) => ({ high: new Float64Array(low.length), low: low.map((n) => indices[n] ?? 0) }),
  }
}

/** Whole numbers below a limit, each equally likely: 32-bit words of AES in counter mode, those of the last part-range dropped. */
function uniform({ key, tweak }: { key: Uint8Array; tweak: Uint8Array }): (limit: number) => number {
  const schedule = unsafe.expandKeyLE(key)
  // The counter starts at the CBC-MAC of the tweak, its length first, so that every space has its own stream.
  const start = new Uint8Array(16)
  const message = new Uint8Array(16 + Math.ceil(tweak.length / 16) * 16)
  message.set([2, 0, 0, 0, tweak.length >> 8, tweak.length & 255])
  message.set(tweak, 16)
  for (let at = 0; at < message.length; at += 16) {
    for (let k = 0; k < 16; k++) start[k] = (start[k] ?? 0) ^ (message[at + k] ?? 0)
    unsafe.encryptBlock(schedule, start)
  }
  const counter = new DataView(new ArrayBuffer(16))
  const block = new Uint8Array(16)
  let blocks = 0
  let word = 4
  const next = () => {
    if (word === 4) {
      counter.setUint32(12, blocks++)
      for (let k = 0; k < 16; k++) block[k] = (start[k] ?? 0) ^ counter.getUint8(k)
      unsafe.encryptBlock(schedule, block)
      word = 0
    }
    return new DataView(block.buffer).getUint32(4 * word++)
  }
  return (limit) => {
    const whole = 2 ** 32 - (2 ** 32 % limit)
    let drawn = next()
    while (drawn >= whole) drawn = next()
    return drawn % limit
  }
}
