/**
 * `codes.chart` on large orders on three levels, verification and price included: 1 000 locks are asked for in 10 s, 10 000 in
 * 120 s. Needs a build.
 */
import { answerLong } from '../engine/dist/calculation.js'
import { chart } from '../engine/dist/codes/chart/chart.js'
import { processorTime, seconds } from './timing.mjs'

/** A general master, masters of groups, and a key for every lock. */
function threeLevels(groups, locksEach) {
  const names = Array.from({ length: groups }, (_, group) => `Group ${group + 1}`)
  const locks = names.flatMap((group, g) =>
    Array.from({ length: locksEach }, (_, lock) => {
      const name = `${g + 1}-${lock + 1}`
      return { name, openedBy: [`Key ${name}`, group, 'General'] }
    }),
  )
  return { keys: ['General', ...names, ...locks.map(({ openedBy }) => openedBy[0])], locks }
}

const mechanism = { maxGatesPerDisc: 3, minDifferingDiscs: 2 }
const cases = [
  ['1 000 locks in 20 groups, 9 discs of 8 values', 10, { discs: 9, values: 8 }, threeLevels(20, 50)],
  ['10 000 locks in 50 groups, 11 discs of 8 values', 120, { discs: 11, values: 8 }, threeLevels(50, 200)],
]
for (const [title, asked, shape, order] of cases) {
  let output
  const took = await processorTime(async () => {
    const answered = await answerLong(chart, { ...shape, ...mechanism, ...order, seconds: asked })
    if (!answered.ok) throw new Error(answered.issues[0].message)
    output = answered.output
  })
  const { verified, pairsTried, worstDifferingDiscs, unlistedCodesPerLock, locksPerLostKey, method } = output
  console.log(
    `${title}: ${seconds(took)} (asked: ${asked} s), ${verified ? 'verified' : 'NOT as listed'} in ${pairsTried.toLocaleString('en')} trials, ` +
      `by ${method}; a foreign key misses ${worstDifferingDiscs} discs, unlisted codes a lock at most ${unlistedCodesPerLock.max}, a lost key opens at most ${locksPerLostKey.max}`,
  )
}
