import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { acidPickle, hexavalentChromium, nickelSalts } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { list, percent, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'

const additionArithmetic = source({
  id: 'practice.bath-additions',
  status: 'common practice (no source)',
  citation:
    'What is missing in g/L times the volume, over the share of the salt that counts; what is too much is diluted',
})

const substance = text('Substance', { max: 60 })

/** What to add to a bath after its analysis, or how much to replace with water where there is too much. */
export const bathAdditions = calculation({
  id: 'finish.bath-additions',
  title: 'Additions after a bath analysis',
  summary:
    'For each substance analysed: how much to add to come back to the target, or how much bath to replace with water.',
  equation: String.raw`m = \frac{(C^{*} - C)\,V}{w}, \quad V_{out} = V\left(1 - \frac{C^{*}}{C}\right)`,
  assumes: ['the volume stays the same while salts dissolve', 'each substance is set right on its own'],
  sources: [additionArithmetic],
  cautions: [nickelSalts, hexavalentChromium, acidPickle],
  input: z.strictObject({
    volumeL: quantity('V', 'L', 'Volume of the bath', { min: 0.1, max: 1_000_000 }),
    analysis: list(
      'Analysis',
      z.strictObject({
        name: substance,
        measuredGPerL: quantity('C', 'g/L', 'Measured', { min: 0, max: 1000 }),
        targetGPerL: quantity('C^{*}', 'g/L', 'Target', { min: 0.001, max: 1000 }),
        contentPercent: percent('w', 'Share of the salt that counts', {
          min: 0.1,
          max: 100,
          help: 'Left out: 100 %. For metal in a hydrated salt, the metal’s share of it',
        }).optional(),
      }),
      { max: 20 },
    ),
  }),
  output: z.strictObject({
    additions: list(
      'Additions',
      z.strictObject({
        name: substance,
        addG: quantity('m', 'g', 'Add'),
        replaceL: quantity('V_{out}', 'L', 'Replace with water'),
        offPercent: percent(null, 'Measured over target, less one', {}),
      }),
      { max: 20 },
    ),
  }),
  examples: [
    {
      title: '500 L, 40 g/L of 45: 2.5 kg; 300 g/L of 270: 50 L of bath replaced (by hand)',
      source: additionArithmetic,
      input: {
        volumeL: 500,
        analysis: [
          { name: 'Boric acid', measuredGPerL: 40, targetGPerL: 45 },
          { name: 'Nickel sulfate', measuredGPerL: 300, targetGPerL: 270 },
        ],
      },
      output: {
        additions: [
          { addG: 2500, replaceL: 0 },
          { addG: 0, replaceL: 50 },
        ],
      },
      tolerance: { relative: 1e-9 },
      reason: 'whole numbers',
    },
  ],
  run({ volumeL, analysis }, report) {
    if (analysis.some(({ measuredGPerL, targetGPerL }) => measuredGPerL > targetGPerL))
      report.notice('Bath replaced with water takes every other substance down with it: analyse again before adding.')
    return {
      additions: analysis.map(({ name, measuredGPerL, targetGPerL, contentPercent = 100 }) => ({
        name,
        addG: (Math.max(0, targetGPerL - measuredGPerL) * volumeL) / (contentPercent / 100),
        replaceL: measuredGPerL > targetGPerL ? volumeL * (1 - targetGPerL / measuredGPerL) : 0,
        offPercent: 100 * (measuredGPerL / targetGPerL - 1),
      })),
    }
  },
  working: ({ input: { volumeL, analysis }, output: { additions } }) =>
    analysis.map(({ name, measuredGPerL: C, targetGPerL: goal, contentPercent = 100 }, i) =>
      C > goal
        ? {
            finds: `${name}: bath to replace with water`,
            formula: String.raw`V_{out} = V\left(1 - \frac{C^{*}}{C}\right)`,
            filled: String.raw`V_{out} = ${texNumber(volumeL)} \left(1 - \frac{${texNumber(goal)}}{${texNumber(C)}}\right) = ${texQuantity(additions[i]?.replaceL ?? 0, 'L')}`,
          }
        : {
            finds: `${name}: to add`,
            formula: String.raw`m = \frac{(C^{*} - C)\,V}{w}`,
            filled: String.raw`m = \frac{(${texNumber(goal)} - ${texNumber(C)}) \cdot ${texNumber(volumeL)}}{${texNumber(contentPercent / 100)}} = ${texQuantity(additions[i]?.addG ?? 0, 'g')}`,
          },
    ),
})
