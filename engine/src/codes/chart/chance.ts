import { unsafe } from '@noble/ciphers/aes.js'
import { SeededRandom } from '../../numeric/seeded-random.ts'

/** Draws whole numbers from 0 to below a limit, each equally likely. */
export type Chance = (limit: number) => number

/** Draws that come out the same for the same seed; for trying out a chart. Whoever knows the seed can draw them again. */
export function seededChance(seed: number): Chance {
  const random = new SeededRandom(seed)
  return (limit) => Math.floor(random.uniform() * limit)
}

/**
 * Draws that only the holder of a key can draw again: AES in counter mode, the numbers of the last part-range dropped.
 *
 * @param key 16, 24 or 32 bytes, derived for charts alone
 * @param chart what is drawn for, say order and line: another text gives unrelated draws
 */
export function keyedChance(key: Uint8Array, chart: string): Chance {
  const schedule = unsafe.expandKeyLE(key)
  const start = new Uint8Array(16)
  const text = Uint8Array.from({ length: 2 * chart.length }, (_, k) => chart.charCodeAt(k >> 1) >> (8 * (k & 1)))
  // The CBC-MAC of the text, its length first, is where the counter starts.
  const message = new Uint8Array(16 + Math.ceil(text.length / 16) * 16)
  new DataView(message.buffer).setUint32(0, text.length)
  message.set(text, 16)
  for (let at = 0; at < message.length; at += 16) {
    for (let k = 0; k < 16; k++) start[k] = (start[k] ?? 0) ^ (message[at + k] ?? 0)
    unsafe.encryptBlock(schedule, start)
  }
  const block = new Uint8Array(16)
  const words = new DataView(block.buffer)
  let blocks = 0
  let word = 4
  const next = () => {
    if (word === 4) {
      block.set(start)
      words.setUint32(12, words.getUint32(12) ^ blocks++)
      unsafe.encryptBlock(schedule, block)
      word = 0
    }
    return words.getUint32(4 * word++)
  }
  return (limit) => {
    const whole = 2 ** 32 - (2 ** 32 % limit)
    let drawn = next()
    while (drawn >= whole) drawn = next()
    return drawn % limit
  }
}

/** The same things in an order drawn by chance. */
export function shuffled<T>(things: readonly T[], chance: Chance): T[] {
  const order = [...things]
  for (let last = order.length - 1; last > 0; last--) {
    const other = chance(last + 1)
    const kept = order[last] as T // inside the list, as is `other`
    order[last] = order[other] as T
    order[other] = kept
  }
  return order
}
