/**
 * `finish.timetable` on the published line of 12 tanks, beside the same line as a plain mixed-integer program in HiGHS, each proven,
 * in the same run on one core. Needs a build.
 */
import { readFileSync } from 'node:fs'
import { answerLong } from '../engine/dist/calculation.js'
import { timetable } from '../engine/dist/finish/timetable/timetable.js'
import { columnData, loadHighs } from '../engine/dist/numeric/integer-program.js'
import { plainProgram, solveMixed } from './timetable-program.mjs'
import { processorTime, seconds } from './timing.mjs'

const file = new URL('../checks/hoist/phillips-unger.json', import.meta.url)
const { minSoak, maxSoak, loadedMove, emptyMove } = JSON.parse(readFileSync(file, 'utf8'))
const line = {
  tanks: [{ minS: 0, maxS: null }, ...minSoak.map((minS, i) => ({ minS, maxS: maxSoak[i] }))],
  loadedMoveS: loadedMove,
  // A row of the published matrix begins where a move ended; here it begins at a station.
  emptyMoveS: loadedMove.map((_, station) => emptyMove.at(station - 1)),
  hoists: 1,
}
let answered
const own = await processorTime(async () => {
  answered = await answerLong(timetable, line)
})
if (!answered.ok) throw new Error(answered.issues[0].message)
const { cycleS, proven, nodes } = answered.output
console.log(
  `Phillips & Unger, 12 tanks: ${cycleS} s, proven ${proven}, ${nodes} orders, ${seconds(own)} on a cold start`,
)
const highs = await loadHighs()
const program = plainProgram(line)
let period
const plain = await processorTime(async () => {
  period = solveMixed(highs, program, columnData)
})
console.log(`the plain program in HiGHS: ${period} s, proven, ${seconds(plain)}`)
console.log(`${(plain / own).toFixed(0)} times faster`)
