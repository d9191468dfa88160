/**
 * FF1 of @noble/ciphers, one string at a time, against the bulk path, with AES in plain TypeScript and with the machine's:
 * the same strings, the same results, one run. Needs a build (`npx tsc -b engine`).
 */
import { createCipheriv } from 'node:crypto'
import { FF1 } from '@noble/ciphers/ff1.js'
import { plainBlockCipher } from '../engine/dist/codes/block-cipher.js'
import { ff1 } from '../engine/dist/codes/ff1.js'
import { ff1Batch } from '../engine/dist/codes/ff1-batch.js'
import { perSecond, quickest } from './timing.mjs'

const key = Uint8Array.from({ length: 32 }, (_, i) => 7 * i)
const tweak = Uint8Array.from({ length: 40 }, (_, i) => i)

/** AES of the machine over one large buffer. */
function machineCipher(secret) {
  const cipher = createCipheriv(`aes-${8 * secret.length}-ecb`, secret, null).setAutoPadding(false)
  return { encipher: (from, into) => into.set(cipher.update(from)) }
}

for (const [title, radix, length] of [
  ['7 discs of 10 values', 3163, 2],
  ['7 decimal digits', 10, 7],
  ['24 discs of 12 values', 20_736, 6],
]) {
  const spec = { key, tweak, radix, length }
  const u = Math.floor(length / 2)
  const few = 2000
  const many = 200_000
  const second = radix ** (length - u)
  const first = radix ** u
  const start = {
    first: Float64Array.from({ length: many }, (_, k) => (k * 7919) % first),
    second: Float64Array.from({ length: many }, (_, k) => (k * 104_729) % second),
  }
  const digitsOf = (k) => [...digits(start.first[k], u), ...digits(start.second[k], length - u)]
  const digits = (number, places) => {
    const made = new Array(places)
    for (let at = places - 1, rest = number; at >= 0; at--, rest = Math.floor(rest / radix)) made[at] = rest % radix
    return made
  }
  const strings = Array.from({ length: few }, (_, k) => digitsOf(k))
  const other = FF1(radix, key, tweak)
  const single = ff1(spec)
  const noble = few / quickest(4, () => strings.map((string) => other.encrypt(string)))
  const scalar = few / quickest(4, () => strings.map((string) => single.encipher(string)))
  console.log(`${title} (radix ${radix}, length ${length})`)
  console.log(`  @noble/ciphers ff1:        ${perSecond(noble)} a second`)
  console.log(`  one by one:                ${perSecond(scalar)} a second, ${(scalar / noble).toFixed(1)} times`)
  for (const [name, cipher] of [
    ['bulk, plain AES:         ', plainBlockCipher(key)],
    ['bulk, AES of the machine:', machineCipher(key)],
  ]) {
    const batch = ff1Batch(spec, cipher)
    let made
    const rate =
      many /
      quickest(3, () => {
        made = { first: start.first.slice(), second: start.second.slice() }
        batch.encipher(made, many)
      })
    for (let k = 0; k < few; k++) {
      const wanted = other.encrypt(strings[k])
      const got = [...digits(made.first[k], u), ...digits(made.second[k], length - u)]
      if (wanted.join() !== got.join()) throw new Error(`string ${k} differs`)
    }
    console.log(`  ${name}  ${perSecond(rate)} a second, ${(rate / noble).toFixed(1)} times`)
  }
}
