import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { quantity } from '../quantity.ts'
import { punchDesign } from './section-bending.ts'

/** What the press must push to bend a bar between two supports. */
export const pressForce = calculation({
  id: 'shackle.press-force',
  title: 'Press force for bending',
  summary:
    'Largest force of a punch that bends a bar between two supports, from the bending moment of the bar, the span and the friction at the supports.',
  equation: String.raw`F = \frac{M}{l}\left(1 + \cos\lambda + \mu\sin\lambda\right), \quad \lambda = \arctan\mu`,
  assumes: [
    'the punch stands midway between two supports; the largest force comes while the legs still lie nearly flat',
    'published for flat bar; a round bar enters by its own moment, which shackle.springback gives',
    'the metal is taken not to harden: a hardening bar pushes back harder',
    'bottoming the bow in the die, and pressing over rollers that close up behind the punch, take more',
  ],
  sources: [punchDesign],
  cautions: [movingMachinery, strengthIsEstimated],
  input: z.strictObject({
    momentNm: quantity('M', 'N·m', 'Bending moment of the bar', { min: 0.001, max: 1e6 }),
    halfSpanMm: quantity('l', 'mm', 'From the middle of the punch to a support', { min: 0.5, max: 2000 }),
    frictionCoefficient: quantity(String.raw`\mu`, '', 'Friction at the supports', {
      min: 0,
      max: 1,
      trusted: [0, 0.3],
    }),
  }),
  output: z.strictObject({
    forceN: quantity('F', 'N', 'Largest force of the press'),
    frictionN: quantity(null, 'N', 'Of it by friction'),
  }),
  examples: [
    {
      title: 'flat bar 5 by 20, moment 51.68 N·m, half span 25, friction 0.1: 4144 N (Ghosh and Mallik, example 3.9)',
      source: punchDesign,
      input: { momentNm: 51.678, halfSpanMm: 25, frictionCoefficient: 0.1 },
      output: { forceN: 4144 },
      tolerance: { absolute: 1 },
      reason: 'printed to whole newtons; the moment follows from the inputs of the example',
    },
  ],
  run({ momentNm, halfSpanMm, frictionCoefficient: mu }) {
    const perSide = (momentNm * 1000) / halfSpanMm // N·m → N·mm
    const forceN = perSide * (1 + frictionTerm(mu))
    return { forceN, frictionN: forceN - 2 * perSide }
  },
  working({ input: { momentNm, halfSpanMm, frictionCoefficient: mu }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Largest force',
        formula: String.raw`F = \frac{M}{l}\left(1 + \cos\lambda + \mu\sin\lambda\right), \quad \lambda = \arctan\mu`,
        filled: String.raw`F = \frac{${n(momentNm * 1000)}}{${n(halfSpanMm)}}\left(1 + ${n(frictionTerm(mu), 5)}\right) = ${texQuantity(output.forceN, 'N')}`,
      },
    ]
  },
})

/** cos λ + μ sin λ at λ = arctan μ. */
function frictionTerm(mu: number): number {
  const lambda = Math.atan(mu)
  return Math.cos(lambda) + mu * Math.sin(lambda)
}
