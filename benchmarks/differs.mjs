/**
 * `mechanism.differs` and `mechanism.interchange` at the rate a page needs them: the figures of a mechanism follow every change.
 * Each case is asked with a tolerance moved a little every time, so that nothing is found ready. Needs a build.
 */
import { answer, answerLong } from '../engine/dist/calculation.js'
import { differs } from '../engine/dist/mechanism/differs.js'
import { interchange } from '../engine/dist/mechanism/interchange.js'
import { processorTime } from './timing.mjs'

const RUNS = 12
const opening = { stepDeg: 18, halfWindowDeg: 5, sigmaDeg: 0.9, commonSigmaDeg: 0.6, rockDeg: 3 }
const target = { ownKey: 0.999, interchange: 1e-6 }
const cases = [
  ['9 discs of 6 values, all keep apart', { discs: 9, values: 6, ...opening, target }],
  ['9 discs of 6 values, a rule needed', { discs: 9, values: 6, ...opening, halfWindowDeg: 7.5, target }],
  [
    '11 discs of 10 values, a rule needed',
    { discs: 11, values: 10, ...opening, stepDeg: 10, halfWindowDeg: 4, target },
  ],
  [
    '11 discs of 10 values, no rule is enough',
    { discs: 11, values: 10, ...opening, stepDeg: 6, halfWindowDeg: 4, target },
  ],
]
for (const [title, input] of cases) {
  const took = []
  let needed
  for (let run = 0; run < RUNS; run++) {
    const moved = { ...input, sigmaDeg: input.sigmaDeg * (1 + run / 1000) }
    took.push(
      await processorTime(async () => {
        const answered = await answerLong(differs, moved)
        if (!answered.ok) throw new Error(answered.issues[0].message)
        needed = answered.output.rule.needed
      }),
    )
  }
  took.sort((a, b) => a - b)
  console.log(
    `${title}: median ${took[RUNS / 2].toFixed(1)} ms, longest ${took.at(-1).toFixed(1)} ms (rule: ${needed})`,
  )
}

const oneOff = [1, ...new Array(10).fill(0)]
const many = 500
const each =
  processorTime(() => {
    for (let i = 0; i < many; i++) answer(interchange, { ...opening, sigmaDeg: 0.9 + i / 1e5, differences: oneOff })
  }) / many
console.log(`mechanism.interchange, 11 discs, one step off: ${each.toFixed(3)} ms (asked: below 2 ms)`)
