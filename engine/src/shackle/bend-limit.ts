import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const minimumRadius = source({
  id: 'textbook.minimum-bend-radius',
  status: 'handbook',
  citation:
    'Minimum bend radius R = T(50/r − 1) from the reduction of area r in percent, public article after a textbook',
  place: 'T 0.5 in and 10 % give 2 in',
  note: 'Derived for the bending of sheet: outer fibre strain 1/(1 + 2R/T) equal to the strain r/(100 − r) at fracture. Smooth edges.',
})

const minimumRadiusByHand = source({
  id: 'textbook.minimum-bend-radius-by-hand',
  status: 'common practice (no source)',
  citation: 'The same relation by hand: 20 % gives 1.5 T, 50 % and more give 0',
})

/**
 * Smallest inside radius a bar takes without cracking at the outside, mm: T(50/r − 1), never below 0.
 *
 * @param thicknessMm depth in the plane of bending; the diameter of a round bar
 * @param reductionOfAreaPercent reduction of area of the bar as bent, from its tension test
 */
export function minimumInsideRadiusMm({
  thicknessMm,
  reductionOfAreaPercent,
}: {
  thicknessMm: number
  reductionOfAreaPercent: number
}): number {
  return Math.max(0, thicknessMm * (50 / reductionOfAreaPercent - 1))
}

/** How tight a bar may be bent before its outside cracks. */
export const bendLimit = calculation({
  id: 'shackle.bend-limit',
  title: 'Smallest bend radius',
  summary: 'Smallest inside radius from the reduction of area, and the strain of the outer fibre at the radius wanted.',
  equation: String.raw`R_{min} = T\left(\frac{50}{r} - 1\right), \quad \varepsilon = \frac{T}{2R + T}`,
  assumes: [
    'neutral axis at mid depth',
    'the relation is that of sheet, taken over for a round bar',
    'reduction of area of the bar in the state in which it is bent',
  ],
  sources: [minimumRadius],
  cautions: [movingMachinery, strengthIsEstimated],
  input: z.strictObject({
    thicknessMm: quantity('T', 'mm', 'Depth in the plane of bending', { min: 0.1, max: 100 }),
    insideRadiusMm: quantity('R', 'mm', 'Inside radius wanted', { min: 0, max: 10_000 }),
    reductionOfAreaPercent: percent('r', 'Reduction of area of the bar as bent', {
      min: 0.1,
      max: 95,
      trusted: [5, 70],
    }),
  }),
  output: z.strictObject({
    minimumRadiusMm: quantity('R_{min}', 'mm', 'Smallest inside radius'),
    outerStrainPercent: quantity(String.raw`\varepsilon`, '%', 'Strain of the outer fibre at the radius wanted'),
    limitStrainPercent: quantity(String.raw`\varepsilon_f`, '%', 'Strain of the outer fibre at which it cracks'),
  }),
  examples: [
    {
      title: '0.5 in with 10 % reduction of area: 2 in (article after a textbook)',
      source: minimumRadius,
      input: { thicknessMm: 12.7, insideRadiusMm: 50.8, reductionOfAreaPercent: 10 },
      output: { minimumRadiusMm: 50.8 },
      tolerance: { relative: 1e-9 },
      reason: 'a formula identity',
    },
    {
      title: '20 % reduction of area: one and a half thicknesses (by hand)',
      source: minimumRadiusByHand,
      input: { thicknessMm: 8, insideRadiusMm: 13, reductionOfAreaPercent: 20 },
      output: { minimumRadiusMm: 12, outerStrainPercent: 23.529 },
      tolerance: { absolute: 0.001 },
      reason: 'written to a thousandth',
    },
    {
      title: '60 % reduction of area: folds flat, never a radius below 0 (by hand)',
      source: minimumRadiusByHand,
      input: { thicknessMm: 8, insideRadiusMm: 13, reductionOfAreaPercent: 60 },
      output: { minimumRadiusMm: 0 },
    },
  ],
  run({ thicknessMm: T, insideRadiusMm: R, reductionOfAreaPercent: r }) {
    return {
      minimumRadiusMm: minimumInsideRadiusMm({ thicknessMm: T, reductionOfAreaPercent: r }),
      outerStrainPercent: (100 * T) / (2 * R + T),
      limitStrainPercent: (100 * r) / (100 - r),
    }
  },
  working({ input: { thicknessMm: T, insideRadiusMm: R, reductionOfAreaPercent: r }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Smallest inside radius',
        formula: String.raw`R_{min} = \max\!\left(0,\ T\left(\frac{50}{r} - 1\right)\right)`,
        filled: String.raw`R_{min} = \max\!\left(0,\ ${n(T)}\left(\frac{50}{${n(r)}} - 1\right)\right) = ${texQuantity(output.minimumRadiusMm, 'mm')}`,
      },
      {
        finds: 'Strain of the outer fibre',
        formula: String.raw`\varepsilon = \frac{T}{2R + T}`,
        filled: String.raw`\varepsilon = \frac{${n(T)}}{2 \cdot ${n(R)} + ${n(T)}} = ${texQuantity(output.outerStrainPercent, '%')}`,
      },
    ]
  },
})
