import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { count, list, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const rinseBalance = source({
  id: 'balance.counter-current-rinse',
  status: 'common practice (no source)',
  citation: 'Mass balance of rinse tanks in counter-flow, derived: dilution = 1 + r + r² + … + rⁿ',
  note: 'The common short cut r = (C₀/Cₙ)^(1/n) is a little too high; the exact series is used.',
})

const singleRinseExample = source({
  id: 'guide.rinsing-less-water',
  status: 'handbook',
  citation: 'Tank builder’s guide to rinsing with less water, example of a single rinse',
  place: 'drag-out 1 and water 2000 gallons an hour dilute 2001 : 1, 10 to 0.005 oz/gal',
})

const tenMinuteGuide = source({
  id: 'guide.better-rinsing',
  status: 'handbook',
  citation: 'Tank builder’s ten-minute guide to better rinsing, example 1',
  place: '1 part dragged into 99 parts of water: 100 : 1',
})

const singleRinseNote = source({
  id: 'note.rinse-water-flow',
  status: 'handbook',
  citation: 'Water treatment maker’s application note on rinse flow',
  place: 'bath 250 g/L, drag-out 3000 g/h, target 100 mg/L: 500 L/min',
})

/** Newton's method from above on a rising convex curve comes down step by step and cannot miss. */
const RELATIVE_TOLERANCE = 1e-13
const MOST_STEPS = 200

/**
 * Water per drag-out, r = Q/D, for which n rinses in counter-flow dilute C0 to Cn: the root of r + r² + … + rⁿ = C0/Cn − 1.
 * Solved by Newton's method from above to a relative step of 1e-13; `undefined` if it has not settled after 200 steps.
 */
export function rinseRatio(excess: number, stages: number): number | undefined {
  let r = excess ** (1 / stages)
  for (let step = 0; step < MOST_STEPS; step++) {
    let sum = 0
    let slope = 0
    // Horner's scheme for r + r² + … + rⁿ and its derivative.
    for (let k = 0; k < stages; k++) {
      slope = slope * r + sum + 1
      sum = (sum + 1) * r
    }
    const next = r - (sum - excess) / slope
    if (Math.abs(next - r) <= RELATIVE_TOLERANCE * r) return next
    r = next
  }
  return undefined
}

/** How much water a chain of rinses needs. */
export const rinse = calculation({
  id: 'finish.rinse',
  title: 'Water for rinses in counter-flow',
  summary: 'Fresh water that keeps the last of one to five rinse tanks at the concentration wanted.',
  equation: String.raw`\frac{C_0}{C_n} = \sum_{k=0}^{n} r^k, \quad Q = r\,D`,
  assumes: [
    'each tank is well stirred and settled',
    'work carries as much out of a tank as into it',
    'fresh water is clean and enters the last tank',
  ],
  sources: [rinseBalance],
  input: z.strictObject({
    dragOutLPerH: quantity('D', 'L/h', 'Drag-out', { min: 1e-4, max: 1000 }),
    concentrationGPerL: quantity('C_0', 'g/L', 'Concentration of the bath', { min: 1e-4, max: 1000 }),
    targetGPerL: quantity('C_n', 'g/L', 'Concentration wanted in the last rinse', { min: 1e-7, max: 1000 }),
    stages: count('Rinse tanks', { symbol: 'n', min: 1, max: 5 }),
  }),
  output: z.strictObject({
    flowLPerH: quantity('Q', 'L/h', 'Fresh water'),
    ratio: quantity('r', '', 'Water per drag-out'),
    dilution: quantity('C_0/C_n', '', 'Dilution from bath to last rinse'),
    stageConcentrationsGPerL: list(
      'Concentration of each rinse, first to last',
      quantity('C_i', 'g/L', 'Concentration of a rinse'),
      { max: 5 },
    ),
  }),
  examples: [
    {
      title: 'drag-out 1, water 2000: 10 falls to 0.005 in a single rinse (tank builder’s guide)',
      source: singleRinseExample,
      input: { dragOutLPerH: 1, concentrationGPerL: 10, targetGPerL: 0.005, stages: 1 },
      output: { flowLPerH: 2000, dilution: 2001 },
      tolerance: { relative: 1e-3 },
      reason: 'the guide rounds 10/2001 to 0.005',
    },
    {
      title: 'one part in 99 parts of water is 100 : 1 (ten-minute guide, example 1)',
      source: tenMinuteGuide,
      input: { dragOutLPerH: 1, concentrationGPerL: 100, targetGPerL: 1, stages: 1 },
      output: { flowLPerH: 99, dilution: 100 },
      tolerance: { relative: 1e-12 },
      reason: 'whole numbers',
    },
    {
      title: 'bath 250 g/L, drag-out 12 L/h, target 0.1 g/L: 500 L/min (application note)',
      source: singleRinseNote,
      input: { dragOutLPerH: 12, concentrationGPerL: 250, targetGPerL: 0.1, stages: 1 },
      output: { flowLPerH: 30_000 },
      tolerance: { relative: 0.005 },
      reason: 'the note leaves out the drag-out beside the water',
    },
    {
      title: 'bath 250 g/L, drag-out 12 L/h, target 0.05 g/L: 1000 L/min (application note)',
      source: singleRinseNote,
      input: { dragOutLPerH: 12, concentrationGPerL: 250, targetGPerL: 0.05, stages: 1 },
      output: { flowLPerH: 60_000 },
      tolerance: { relative: 0.005 },
      reason: 'the note leaves out the drag-out beside the water',
    },
  ],
  run({ dragOutLPerH, concentrationGPerL, targetGPerL, stages }) {
    if (targetGPerL >= concentrationGPerL)
      return refuse({
        path: 'targetGPerL',
        code: 'contradiction',
        message: 'The rinse is wanted no cleaner than the bath: there is nothing to rinse.',
        value: targetGPerL,
        allowed: `below ${concentrationGPerL} g/L`,
      })
    const r = rinseRatio((concentrationGPerL - targetGPerL) / targetGPerL, stages)
    if (r === undefined)
      return refuse({
        path: 'targetGPerL',
        code: 'not-converged',
        message: 'The water needed could not be found to the digits promised. Choose a target a little higher.',
        value: targetGPerL,
      })
    return {
      flowLPerH: r * dragOutLPerH,
      ratio: r,
      dilution: concentrationGPerL / targetGPerL,
      stageConcentrationsGPerL: stageConcentrations(r, targetGPerL, stages),
    }
  },
  working({ input: { dragOutLPerH, concentrationGPerL, targetGPerL, stages }, output }) {
    const series = ['1', 'r', 'r^2', 'r^3', 'r^4', 'r^5'].slice(0, stages + 1).join(' + ')
    return [
      {
        finds: 'Water per drag-out, by Newton’s method to a relative step of 1e-13',
        formula: String.raw`\frac{C_0}{C_n} = ${series}`,
        filled: String.raw`\frac{${texNumber(concentrationGPerL)}}{${texNumber(targetGPerL)}} = ${series} \;\Rightarrow\; r = ${texNumber(output.ratio)}`,
      },
      {
        finds: 'Fresh water',
        formula: 'Q = r D',
        filled: String.raw`Q = ${texNumber(output.ratio)} \cdot ${texNumber(dragOutLPerH)} = ${texQuantity(output.flowLPerH, 'L/h')}`,
      },
    ]
  },
})

/** From the last rinse back: each tank is (Cₙ)(1 + r + … ) one term richer than the one after it. */
function stageConcentrations(r: number, last: number, stages: number): number[] {
  const concentrations: number[] = []
  let sum = 1
  for (let k = 0; k < stages; k++) {
    concentrations.unshift(last * sum)
    sum = sum * r + 1
  }
  return concentrations
}
