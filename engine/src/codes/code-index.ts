import type { Code } from '../numeric/code-rules.ts'

/** Finds the codes of a list that lie a given difference away from one of them, without comparing all pairs. */
export interface CodeIndex {
  /** Of every place in the list the first place that has the same code: its own, unless the code stands there twice. */
  readonly first: Int32Array
  /** Calls back with every pair (a, b) of first places for which code b − code a is the difference; it is not zero. */
  forPairs(difference: Code, found: (a: number, b: number) => void): void
}

/** A prime below 2⁴⁸: a residue times a value, and sums of such, stay exact in doubles. */
const PRIME = 2 ** 48 - 59
const EMPTY = -1

/**
 * Indexes a list of codes of one length by a hash that is linear in the values, so that the hash of a code and a difference
 * together is a sum. What is found is compared value by value: hashes only point.
 *
 * Most look-ups find nothing: sixteen bits a code, of which one is set, turn most of them away in memory that stays at hand.
 */
export function codeIndex(codes: readonly Code[]): CodeIndex {
  const discs = codes[0]?.length ?? 0
  const powers = powersOf(discs)
  const hashOf = (code: Code) => code.reduce((sum, value, disc) => (sum + value * (powers[disc] ?? 0)) % PRIME, 0)
  const hashes = Float64Array.from(codes, hashOf)
  const values = Uint8Array.from(
    { length: codes.length * discs },
    (_, k) => codes[Math.floor(k / discs)]?.[k % discs] ?? 0,
  )
  const bits = Math.ceil(Math.log2(2 * codes.length + 2))
  const slots = 2 ** bits
  const table = new Int32Array(slots).fill(EMPTY)
  const marks = new Uint8Array(slots)
  const lies = (difference: Code, a: number, b: number): boolean => {
    for (let disc = 0; disc < discs; disc++)
      if ((values[b * discs + disc] ?? 0) - (values[a * discs + disc] ?? 0) !== difference[disc]) return false
    return true
  }
  const nothing = new Array<number>(discs).fill(0)
  const first = Int32Array.from(codes, (_, i) => i)
  for (const [i, hash] of hashes.entries()) {
    const mixed = mix(hash)
    const mark = mixed >>> (29 - bits)
    marks[mark >>> 3] = (marks[mark >>> 3] ?? 0) | (1 << (mark & 7))
    let slot = mixed >>> (32 - bits)
    while (first[i] === i && table[slot] !== EMPTY) {
      const other = table[slot] ?? EMPTY
      if (hashes[other] === hash && lies(nothing, other, i)) first[i] = other
      slot = (slot + 1) & (slots - 1)
    }
    if (first[i] === i) table[slot] = i
  }
  return {
    first,
    forPairs(difference, found) {
      const delta = (hashOf(difference) + PRIME) % PRIME
      for (let a = 0; a < hashes.length; a++) {
        if (first[a] !== a) continue
        const sum = (hashes[a] ?? 0) + delta
        const wanted = sum < PRIME ? sum : sum - PRIME
        const mixed = mix(wanted)
        const mark = mixed >>> (29 - bits)
        if (((marks[mark >>> 3] ?? 0) & (1 << (mark & 7))) === 0) continue
        for (let slot = mixed >>> (32 - bits); table[slot] !== EMPTY; slot = (slot + 1) & (slots - 1)) {
          const b = table[slot] ?? EMPTY
          if (hashes[b] === wanted && lies(difference, a, b)) found(a, b)
        }
      }
    },
  }
}

/** The 48 bits of a hash stirred into 32, of which the first are used. */
function mix(hash: number): number {
  const high = Math.floor(hash / 4_294_967_296)
  const stirred = Math.imul((hash - high * 4_294_967_296) ^ Math.imul(high, 0x85ebca6b), 0x9e3779b1)
  return Math.imul(stirred ^ (stirred >>> 15), 0xc2b2ae35) >>> 0
}

/** Powers of a base above every value, modulo the prime, by doubling and adding so that no product leaves 2⁵³. */
function powersOf(length: number): number[] {
  const powers: number[] = []
  let power = 1
  for (let disc = 0; disc < length; disc++) {
    powers.push(power)
    let next = 0
    for (let k = 0; k < 37; k++) next = (next + power) % PRIME
    power = next
  }
  return powers
}
