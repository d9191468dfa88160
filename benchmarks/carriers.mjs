/**
 * `finish.timetable` with one, two and three carriers on one track: the published line of 12 tanks on places of our own, and the
 * line of the demo works. No peer stands beside: with carriers that cannot pass each other the plain program needs one run for every
 * way to share the moves, and papers differ in their models; on lines of four stations the tests hold it against just that. Needs a
 * build.
 */
import { readFileSync } from 'node:fs'
import { answerLong } from '../engine/dist/calculation.js'
import { timetableRemedies } from '../engine/dist/finish/timetable/remedies.js'
import { timetable } from '../engine/dist/finish/timetable/timetable.js'
import { read } from '../engine/dist/reading.js'
import { Design } from '../engine/dist/works/design.js'
import { lineQuestion } from '../engine/dist/works/line-stations.js'
import { Works } from '../engine/dist/works/resources.js'
import { processorTime, seconds } from './timing.mjs'

const json = (path) => JSON.parse(readFileSync(new URL(path, import.meta.url), 'utf8'))
const checked = (result) => {
  if (!result.ok) throw new Error(result.issues[0].message)
  return result
}
const { minSoak, maxSoak, loadedMove, emptyMove } = json('../checks/hoist/phillips-unger.json')
const published = {
  tanks: [{ minS: 0, maxS: null }, ...minSoak.map((minS, i) => ({ minS, maxS: maxSoak[i] }))],
  loadedMoveS: loadedMove,
  emptyMoveS: loadedMove.map((_, station) => emptyMove.at(station - 1)),
  // No places are published: these are our own, drawn from the empty moves, as in the tests.
  track: { placesM: [0, 11, 14, 16, 14, 19, 22, 24, 26, 29, 6, 8, 10], gapM: 2, speedMPerS: 1.5, liftS: 8, lowerS: 8 },
}
const design = checked(read(Design, json('../demo/designs/hb50.json'))).value
const works = checked(read(Works, json('../demo/works.json'))).value
const { mostNodes: _, ...demo } = checked(lineQuestion(design, works.plating.line)).input

for (const [name, line] of [
  ['Phillips & Unger on places of our own', published],
  ['the demo line, HB50', demo],
]) {
  for (const hoists of [1, 2, 3]) {
    let answered
    const took = await processorTime(async () => {
      answered = checked(await answerLong(timetable, { ...line, hoists }))
    })
    const { cycleS, lowerBoundS, proven, nodes } = answered.output
    const bound = proven ? 'proven' : `not under ${lowerBoundS.toFixed(1)} s`
    console.log(
      `${name}, ${hoists} on the track: ${cycleS.toFixed(1)} s, ${bound}, ${nodes} branches, ${seconds(took)}`,
    )
  }
  for (const hoists of [1, 2]) {
    let answered
    const took = await processorTime(async () => {
      answered = checked(await answerLong(timetableRemedies, { ...line, hoists, widenS: 30, mostNodes: 4000 }))
    })
    const { remedies } = answered.output
    console.log(
      `${name}, ${hoists} on the track: ${remedies.length} remedies in ${seconds(took)}, best ${remedies[0].cycleS.toFixed(1)} s`,
    )
  }
}
