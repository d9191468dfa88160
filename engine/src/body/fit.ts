import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { type Issue, refuse } from '../issue.ts'
import { choice, quantity, text } from '../quantity.ts'
import { isPublished, source } from '../source.ts'
import { type Limits, limitsOf, type NoLimits } from './limits.ts'
import { fundamentalDeviations, rememberedDeviations, standardTolerances } from './limits-and-fits-table.ts'

const bhandari = source({
  id: 'book.bhandari-fits',
  status: 'handbook',
  citation: 'V. B. Bhandari, Design of Machine Elements, examples 3.1 to 3.3 as worked in a public textbook companion',
  place: 'examples 3.1, 3.2, 3.3',
})

const fitTable = source({
  id: 'table.iso-286-example-fits',
  status: 'handbook',
  citation: 'ISO 286 fits of 25 mm in a public table of limits',
  place: '25 H7/g6, H7/p6, H7/n6',
  note: 'Another public page gives 7 to 28 µm for 25 H7/g6; it adds wrongly.',
})

const limitSchema = z.strictObject({
  upperUm: quantity(null, 'µm', 'Upper limit deviation'),
  lowerUm: quantity(null, 'µm', 'Lower limit deviation'),
})

/**
 * Limits of a hole and a shaft of ISO 286 and what the two do together: the smallest and the largest clearance.
 */
export const fit = calculation({
  id: 'body.fit',
  title: 'Limits and fit of a hole and a shaft',
  summary:
    'Limit deviations of two ISO 286 tolerance classes at a nominal size, the clearance between them and the kind of fit.',
  equation: String.raw`c_{max} = ES - ei,\quad c_{min} = EI - es`,
  assumes: ['sizes at 20 °C, after any coating', 'negative clearance is interference'],
  sources: [standardTolerances, fundamentalDeviations, rememberedDeviations],
  input: z.strictObject({
    nominalMm: quantity('D', 'mm', 'Nominal size', { min: 0.001, max: 500 }),
    hole: text('Hole class', { max: 5, help: 'Capital letters and grade, as H7' }),
    shaft: text('Shaft class', { max: 5, help: 'Small letters and grade, as g6' }),
  }),
  output: z.strictObject({
    hole: limitSchema.meta({ title: 'Hole' }),
    shaft: limitSchema.meta({ title: 'Shaft' }),
    clearanceMaxUm: quantity('c_{max}', 'µm', 'Largest clearance'),
    clearanceMinUm: quantity('c_{min}', 'µm', 'Smallest clearance'),
    kind: choice('Kind of fit', ['clearance', 'transition', 'interference']),
  }),
  examples: [
    {
      title: '25 H7/g6: clearance 7 to 41 µm (public table of limits)',
      source: fitTable,
      input: { nominalMm: 25, hole: 'H7', shaft: 'g6' },
      output: {
        hole: { upperUm: 21, lowerUm: 0 },
        shaft: { upperUm: -7, lowerUm: -20 },
        clearanceMinUm: 7,
        clearanceMaxUm: 41,
        kind: 'clearance',
      },
    },
    {
      title: '20 H6/e7: clearance 40 to 74 µm (Bhandari, example 3.1)',
      source: bhandari,
      input: { nominalMm: 20, hole: 'H6', shaft: 'e7' },
      output: { shaft: { upperUm: -40, lowerUm: -61 }, clearanceMinUm: 40, clearanceMaxUm: 74, kind: 'clearance' },
    },
    {
      title: '50 H7/s6: interference 18 to 59 µm (Bhandari, example 3.3)',
      source: bhandari,
      input: { nominalMm: 50, hole: 'H7', shaft: 's6' },
      output: { hole: { upperUm: 25 }, clearanceMaxUm: -18, clearanceMinUm: -59, kind: 'interference' },
    },
  ],
  run({ nominalMm, hole, shaft }, { notice }) {
    const [inner, outer] = [limitsOf(hole, 'hole', nominalMm), limitsOf(shaft, 'shaft', nominalMm)]
    if ('problem' in inner || 'problem' in outer)
      return refuse(...issueOf('hole', hole, inner), ...issueOf('shaft', shaft, outer))
    for (const [written, { source: from }] of [
      [hole, inner],
      [shaft, outer],
    ] as const)
      if (!isPublished(from))
        notice(`The deviation of ${written} at this size is from memory: confirm it in ISO 286-1.`)
    return { hole: plain(inner), shaft: plain(outer), ...together(inner, outer) }
  },
  working({ input: { hole, shaft }, output }) {
    return [
      {
        finds: `Largest clearance of ${hole}/${shaft}, µm`,
        formula: 'c_{max} = ES - ei',
        filled: `c_{max} = ${texNumber(output.hole.upperUm)} - (${texNumber(output.shaft.lowerUm)}) = ${texNumber(output.clearanceMaxUm)}`,
      },
      {
        finds: `Smallest clearance of ${hole}/${shaft}, µm`,
        formula: 'c_{min} = EI - es',
        filled: `c_{min} = ${texNumber(output.hole.lowerUm)} - (${texNumber(output.shaft.upperUm)}) = ${texNumber(output.clearanceMinUm)}`,
      },
    ]
  },
})

/** The clearance between a hole and a shaft of one nominal size, and the kind of fit; negative clearance is interference. */
export function together(hole: Pick<Limits, 'upperUm' | 'lowerUm'>, shaft: Pick<Limits, 'upperUm' | 'lowerUm'>) {
  const clearanceMaxUm = hole.upperUm - shaft.lowerUm
  const clearanceMinUm = hole.lowerUm - shaft.upperUm
  const kind: 'clearance' | 'transition' | 'interference' =
    clearanceMinUm >= 0 ? 'clearance' : clearanceMaxUm <= 0 ? 'interference' : 'transition'
  return { clearanceMaxUm, clearanceMinUm, kind }
}

const plain = ({ upperUm, lowerUm }: Limits) => ({ upperUm, lowerUm })

function issueOf(path: string, value: string, limits: Limits | NoLimits): Issue[] {
  if (!('problem' in limits)) return []
  return [{ path, code: 'not-a-choice', message: `${limits.problem}.`, value, allowed: limits.known }]
}
