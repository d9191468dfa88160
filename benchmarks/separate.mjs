/**
 * `codes.separate` on a hundred thousand and on a million codes, close pairs and the codes to withdraw: with a limit that only
 * one disc one step off passes, with one that two discs pass, and on a whole space without a separation rule. Needs a build.
 */
import { answerLong } from '../engine/dist/calculation.js'
import { issue } from '../engine/dist/codes/issue.js'
import { separate } from '../engine/dist/codes/separate.js'
import { processorTime, seconds } from './timing.mjs'

const keyHex = '000102030405060708090a0b0c0d0e0f'
const limit = { stepDeg: 6, halfWindowDeg: 1.9, sigmaDeg: 0.8, rockDeg: 1, interchange: 1e-6 }
const wide = { ...limit, sigmaDeg: 0.95, interchange: 1e-7 }
const cases = [
  ['100 000 of 7 discs of 10 values, one disc one step', 100_000, { discs: 7, values: 10 }, limit],
  ['100 000 of 7 discs of 10 values, two discs', 100_000, { discs: 7, values: 10 }, wide],
  ['a million of 7 discs of 10 values, one disc one step', 1_000_000, { discs: 7, values: 10 }, limit],
  ['a million of 7 discs of 10 values, two discs', 1_000_000, { discs: 7, values: 10 }, wide],
  ['all the million of 6 discs of 10 values, one disc one step', 1_000_000, { discs: 6, values: 10 }, limit],
]
for (const [title, count, shape, between] of cases) {
  const issued = await answerLong(issue, { ...shape, keyHex, start: '0', count })
  if (!issued.ok) throw new Error('refused')
  let output
  const took = await processorTime(async () => {
    const answered = await answerLong(separate, { codes: issued.output.codes, limit: between })
    if (!answered.ok) throw new Error(answered.issues[0].message)
    output = answered.output
  })
  const { pairsOverLimit, withdraw, withdrawProven, withdrawAtLeast } = output
  const choice =
    withdraw === undefined
      ? 'too many to choose'
      : `withdraw ${withdraw.length} (${withdrawProven ? 'proven' : `at least ${withdrawAtLeast}`})`
  console.log(`${title}: ${seconds(took)}, ${pairsOverLimit} pairs, ${choice}`)
}
