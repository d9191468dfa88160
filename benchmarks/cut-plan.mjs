/**
 * `body.cut-plan` on every published instance in `checks/cutting-stock` and on orders of 200 kinds of piece, each proven or with its
 * bound, in processor time on one core. Needs a build.
 */
import { readFileSync } from 'node:fs'
import { cutPlan } from '../engine/dist/body/cut-plan.js'
import { answerLong } from '../engine/dist/calculation.js'
import { loadHighs } from '../engine/dist/numeric/integer-program.js'
import { processorTime, seconds } from './timing.mjs'

const read = (name) =>
  JSON.parse(readFileSync(new URL(`../checks/cutting-stock/${name}.json`, import.meta.url), 'utf8'))
const noSaw = { kerfMm: 0, endTrimMm: 0, gripMm: 0 }
const counted = (items) =>
  [...new Set(items)].map((lengthMm) => ({
    name: `${lengthMm}`,
    lengthMm,
    quantity: items.filter((item) => item === lengthMm).length,
  }))

const published = [
  ...['falkenauer', 'scholl'].flatMap((file) =>
    read(file).instances.map(({ name, capacity, items, optimum }) => ({
      name,
      optimum,
      order: { ...noSaw, stock: [{ lengthMm: capacity }], pieces: counted(items) },
    })),
  ),
  ...read('textbook').cases.map(({ name, stock, lengths, demand, optimumRolls }) => ({
    name,
    optimum: optimumRolls,
    order: {
      ...noSaw,
      stock: [{ lengthMm: stock }],
      pieces: lengths.map((lengthMm, i) => ({ name: `${lengthMm}`, lengthMm, quantity: demand[i] })),
    },
  })),
]

/** 200 lengths spread evenly from 80 to 1500 mm by a fixed rule; the seed shifts lengths and numbers. */
const manyKinds = (seed) => ({
  name: `200 kinds of piece, no. ${seed}`,
  order: {
    kerfMm: 1.6,
    endTrimMm: 10,
    gripMm: 45,
    stock: seed % 2 === 0 ? [{ lengthMm: 6000 }] : [{ lengthMm: 6000 }, { lengthMm: 3000, quantity: 40 }],
    pieces: Array.from({ length: 200 }, (_, i) => ({
      name: `p${i}`,
      lengthMm: 80 + Math.round(((i * 7.1 + seed * 3.7) % 1420) * 10) / 10,
      quantity: 1 + ((i * 37 + seed * 11) % 60),
    })),
  },
})

await loadHighs()
let proven = 0
const all = [...published, ...[1, 2, 3, 4].map(manyKinds)]
for (const { name, optimum, order } of all) {
  let result
  const took = await processorTime(async () => {
    result = await answerLong(cutPlan, order)
  })
  if (!result.ok) throw new Error(`${name}: ${result.issues[0].message}`)
  const { bars, lowerBound, proven: isProven } = result.output
  if (isProven) proven++
  if (optimum != null && isProven && bars !== optimum) throw new Error(`${name}: ${bars} bars, published ${optimum}`)
  console.log(
    `${name}: ${bars} bars${optimum == null ? '' : `, published ${optimum}`}, ${isProven ? 'proven' : `not below ${lowerBound}`}, ${seconds(took)}`,
  )
}
console.log(`${proven} of ${all.length} proven`)
