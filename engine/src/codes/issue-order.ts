import { unsafe } from '@noble/ciphers/aes.js'
import { shapeText } from '../numeric/code-rules.ts'
import type { CodeSpace } from '../numeric/code-space.ts'
import { type Ff1, ff1, LARGEST_RADIX, LEAST_DOMAIN } from './ff1.ts'

/** A keyed order in which the codes of a space are given out: a permutation of the whole space. */
export interface IssueOrder {
  /**
   * The index (as of `codes.unrank`) of the code that is given out under an issue number.
   * @throws RangeError outside 0 … usable − 1
   */
  indexOf(issueNumber: bigint): bigint
  /** The issue number of an index: the inverse. */
  numberOf(index: bigint): bigint
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
  return { indexOf: (n) => order.indexOf(within(n)), numberOf: (index) => order.numberOf(within(index)) }
}

function walked(usable: bigint, { key, tweak }: { key: Uint8Array; tweak: Uint8Array }): IssueOrder {
  const { radix, length } = leastDomain(usable)
  const cipher = ff1({ key, tweak, radix, length })
  const walk = (from: bigint, direction: keyof Ff1) => {
    let number = from
    do number = numberFrom(cipher[direction](digitsFrom(number, { radix, length })), radix)
    while (number >= usable)
    return number
  }
  return { indexOf: (n) => walk(n, 'encipher'), numberOf: (index) => walk(index, 'decipher') }
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
  return {
    indexOf: (n) => BigInt(indices[Number(n)] ?? 0),
    numberOf: (index) => BigInt(indices.indexOf(Number(index))),
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
