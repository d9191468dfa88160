import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'

const bendAllowance = source({
  id: 'course.bend-allowance',
  status: 'handbook',
  citation: 'Bend allowance W = α(R + k·T), public page on the parameters of sheet metal parts',
  place: 'neutral fibre between the inside and mid depth, k 0 to 0.5',
})

const handGeometry = source({
  id: 'geometry.bent-bar',
  status: 'common practice (no source)',
  citation: 'Two straight legs and a half circle along the neutral axis, by hand',
})

const bendExample = source({
  id: 'textbook.bend-allowance-example',
  status: 'from memory (unverified)',
  citation: 'Sheet-metal bending example of a manufacturing textbook: t 3.2 mm, R 4.75 mm, 60°, k 0.33',
  place: 'bend allowance 6.08 mm, that is 18.24 mm for a half turn',
})

/** How long a straight bar must be cut for a shackle. */
export const blank = calculation({
  id: 'shackle.blank',
  title: 'Blank length of a shackle',
  summary: 'Length of straight bar for two legs and a half-circle bend, measured along the axis that does not stretch.',
  equation: String.raw`L = l_1 + l_2 + \pi\left(\frac{w}{2} + k\,d\right)`,
  assumes: [
    'legs are measured from the tangent points',
    'half circle at inside radius w/2; facing and sawing allowances are not in it',
  ],
  sources: [bendAllowance, handGeometry],
  cautions: [movingMachinery],
  input: z.strictObject({
    barDiameterMm: quantity('d', 'mm', 'Bar diameter', { min: 0.1, max: 100 }),
    insideWidthMm: quantity('w', 'mm', 'Inside width between the legs', { min: 0.1, max: 1000 }),
    heelLegMm: quantity('l_1', 'mm', 'Heel leg from its tangent point', { min: 0, max: 5000 }),
    toeLegMm: quantity('l_2', 'mm', 'Toe leg from its tangent point', { min: 0, max: 5000 }),
    neutralAxisFactor: quantity('k', '', 'Neutral axis from the inside, as a share of the diameter', {
      min: 0,
      max: 1,
      trusted: [0.3, 0.5],
      help: 'Half for a gentle bend, down to a third for a tight one',
    }),
    notchFromToeEndMm: quantity('a', 'mm', 'Notch centre from the end of the toe leg', {
      min: 0,
      max: 5000,
      help: 'For notches cut before bending; the heel notch stands at the same height',
    }).optional(),
  }),
  output: z.strictObject({
    blankLengthMm: quantity('L', 'mm', 'Blank length'),
    arcMm: quantity('s', 'mm', 'Length of the bend along the neutral axis'),
    firstTangentMm: quantity(null, 'mm', 'First tangent point from the heel end of the blank'),
    secondTangentMm: quantity(null, 'mm', 'Second tangent point from the heel end of the blank'),
    centreLineExtraMm: quantity(null, 'mm', 'What a centre-line reckoning would add to the blank'),
    heelNotchFromHeelEndMm: quantity(null, 'mm', 'Heel notch from the heel end of the blank').optional(),
    toeNotchFromHeelEndMm: quantity(null, 'mm', 'Toe notch from the heel end of the blank').optional(),
  }),
  examples: [
    {
      title: '8 mm bar, 26 mm wide, legs 60 and 40, k 0.5: half circle of radius 17, 100 + 17π (by hand)',
      source: handGeometry,
      input: { barDiameterMm: 8, insideWidthMm: 26, heelLegMm: 60, toeLegMm: 40, neutralAxisFactor: 0.5 },
      output: { blankLengthMm: 153.407, arcMm: 53.407, firstTangentMm: 60, secondTangentMm: 113.407 },
      tolerance: { absolute: 0.001 },
      reason: 'written to a thousandth',
    },
    {
      title: '3.2 thick, inside 4.75, k 0.33: three times the 6.08 mm of a 60° bend (textbook example)',
      source: bendExample,
      input: { barDiameterMm: 3.2, insideWidthMm: 9.5, heelLegMm: 38, toeLegMm: 25, neutralAxisFactor: 0.33 },
      output: { arcMm: 18.24 },
      tolerance: { absolute: 0.015 },
      reason: 'three times half the last printed figure',
    },
  ],
  run({ barDiameterMm: d, insideWidthMm: w, heelLegMm, toeLegMm, neutralAxisFactor: k, notchFromToeEndMm: a }) {
    const arcMm = Math.PI * (w / 2 + k * d)
    const heelNotchMm = heelLegMm - toeLegMm + (a ?? 0)
    if (a !== undefined && (a > toeLegMm || heelNotchMm < 0))
      return refuse({
        path: 'notchFromToeEndMm',
        code: 'contradiction',
        message: 'The notch must lie on the straight part of both legs.',
        value: a,
        allowed: `from ${Math.max(0, toeLegMm - heelLegMm)} to ${toeLegMm} mm`,
      })
    return {
      blankLengthMm: heelLegMm + toeLegMm + arcMm,
      arcMm,
      firstTangentMm: heelLegMm,
      secondTangentMm: heelLegMm + arcMm,
      centreLineExtraMm: Math.PI * (0.5 - k) * d,
      ...(a === undefined
        ? {}
        : { heelNotchFromHeelEndMm: heelNotchMm, toeNotchFromHeelEndMm: heelLegMm + arcMm + toeLegMm - a }),
    }
  },
  working({ input: { barDiameterMm: d, insideWidthMm: w, heelLegMm, toeLegMm, neutralAxisFactor: k }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Length of the bend',
        formula: String.raw`s = \pi\left(\frac{w}{2} + k\,d\right)`,
        filled: String.raw`s = \pi\left(\frac{${n(w)}}{2} + ${n(k)} \cdot ${n(d)}\right) = ${texQuantity(output.arcMm, 'mm', 5)}`,
      },
      {
        finds: 'Blank length',
        formula: 'L = l_1 + l_2 + s',
        filled: `L = ${n(heelLegMm)} + ${n(toeLegMm)} + ${n(output.arcMm, 5)} = ${texQuantity(output.blankLengthMm, 'mm', 5)}`,
      },
    ]
  },
})
