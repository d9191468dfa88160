import type { Code } from '../numeric/code-rules.ts'

/** Finds the codes of a list that lie a given difference away from one of them, without comparing all pairs. */
export interface CodeIndex {
  /** Calls back with every pair (a, b) of places in the list for which code b − code a is the difference. */
  forPairs(difference: Code, found: (a: number, b: number) => void): void
}

/** A prime below 2⁴⁸: a residue times a value, and sums of such, stay exact in doubles. */
const PRIME = 2 ** 48 - 59
const EMPTY = -1

/**
 * Indexes a list of codes of one length by a hash that is linear in the values, so that the hash of a code and a difference
 * together is a sum. What is found is compared value by value: hashes only point.
 */
export function codeIndex(codes: readonly Code[]): CodeIndex {
  const powers = powersOf(codes[0]?.length ?? 0)
  const hashOf = (code: Code) => code.reduce((sum, value, disc) => (sum + value * (powers[disc] ?? 0)) % PRIME, 0)
  const hashes = Float64Array.from(codes, hashOf)
  const slots = 2 ** Math.ceil(Math.log2(2 * codes.length + 2))
  const table = new Int32Array(slots).fill(EMPTY)
  const slotOf = (hash: number) => (hash % 4_294_967_291) & (slots - 1)
  for (const [i, hash] of hashes.entries()) {
    let slot = slotOf(hash)
    while (table[slot] !== EMPTY) slot = (slot + 1) & (slots - 1)
    table[slot] = i
  }
  return {
    forPairs(difference, found) {
      const delta = (hashOf(difference) + PRIME) % PRIME
      const isSame = difference.every((step) => step === 0)
      for (const [a, hash] of hashes.entries()) {
        const wanted = (hash + delta) % PRIME
        for (let slot = slotOf(wanted); table[slot] !== EMPTY; slot = (slot + 1) & (slots - 1)) {
          const b = table[slot] ?? EMPTY
          if (hashes[b] !== wanted || (isSame && b <= a)) continue
          if (difference.every((step, disc) => (codes[b]?.[disc] ?? 0) - (codes[a]?.[disc] ?? 0) === step)) found(a, b)
        }
      }
    },
  }
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
