/** A million codes given out by `codes.issue`, with AES in plain TypeScript and with the machine's. Needs a build. */
import { createCipheriv } from 'node:crypto'
import { answerLong } from '../engine/dist/calculation.js'
import { provideBlockCipher } from '../engine/dist/codes/block-cipher.js'
import { issue } from '../engine/dist/codes/issue.js'
import { processorTime, seconds } from './timing.mjs'

const keyHex = '000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f'
const spaces = [
  ['7 discs of 10 values', { discs: 7, values: 10 }],
  [
    '10 discs of 6 values, steps, runs, different values',
    { discs: 10, values: 6, rules: { maxStep: 4, maxSameInRow: 2, minDistinct: 3 } },
  ],
  [
    '11 discs of 10 values, each at most 3 times, sum divisible by 10',
    { discs: 11, values: 10, rules: { maxOfOne: 3, congruence: { modulus: 10, remainder: 0 } } },
  ],
  ['24 discs of 12 values', { discs: 24, values: 12 }],
]
const run = async (title) => {
  for (const [name, shape] of spaces) {
    const took = await processorTime(async () => {
      const answered = await answerLong(issue, { ...shape, keyHex, start: '0', count: 1_000_000 })
      if (!answered.ok || answered.output.codes.length !== 1_000_000) throw new Error('refused')
    })
    console.log(`a million codes, ${title}, ${name}: ${seconds(took)}`)
  }
}
await run('plain AES')
provideBlockCipher((key) => {
  const cipher = createCipheriv(`aes-${8 * key.length}-ecb`, key, null).setAutoPadding(false)
  return { encipher: (from, into) => into.set(cipher.update(from)) }
})
await run('AES of the machine')
