import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'

const shearingForce = source({
  id: 'encyclopaedia.shearing-force',
  status: 'handbook',
  citation: 'Shear force, encyclopaedia article on cutting a round bar, read in a copy',
  place: '25 mm bar of 800 MPa: 392.64 kN in tension, times 0.6 to shear; 0.58 to 0.62 by application',
  note: 'The example steel is a bright medium-carbon bar; nothing was read for hardened steel.',
})

/** Shear over tensile strength, and the range the article gives. */
const SHEAR = 0.6
const SHEAR_RANGE = [0.58, 0.62] as const

/** What it takes to cut one leg. */
export const cutStrength = calculation({
  id: 'shackle.cut-strength',
  title: 'Force to cut a leg (estimate)',
  summary: 'Force that shears a round leg, from its section and tensile strength, with the range of the shear ratio.',
  equation: String.raw`F = c\,R_m\,\frac{\pi d^2}{4}`,
  assumes: [
    'the leg is sheared across in one plane; wedge-shaped jaws that split it take another force',
    'the blades are harder than the leg: a leg as hard as the blades notches them and is not cut',
    'tough steel; a brittle leg snaps at less',
  ],
  sources: [shearingForce],
  cautions: [strengthIsEstimated, movingMachinery],
  input: z.strictObject({
    barDiameterMm: quantity('d', 'mm', 'Bar diameter', { min: 0.5, max: 100 }),
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength', { min: 50, max: 4000, trusted: [400, 1000] }),
  }),
  output: z.strictObject({
    cutN: quantity('F', 'N', 'Force to cut a leg'),
    lowN: quantity(null, 'N', 'At the low end of the shear ratio'),
    highN: quantity(null, 'N', 'At the high end of the shear ratio'),
  }),
  examples: [
    {
      title: '25 mm at 800 MPa: 392.64 kN times 0.6 (encyclopaedia article)',
      source: shearingForce,
      input: { barDiameterMm: 25, tensileMPa: 800 },
      output: { cutN: 0.6 * 392_640 },
      tolerance: { relative: 2e-4 },
      reason: 'the article rounds the section to 490.8 mm²',
    },
  ],
  run({ barDiameterMm: d, tensileMPa }) {
    const tension = (Math.PI / 4) * d ** 2 * tensileMPa
    return { cutN: SHEAR * tension, lowN: SHEAR_RANGE[0] * tension, highN: SHEAR_RANGE[1] * tension }
  },
  working({ input: { barDiameterMm: d, tensileMPa }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Force to cut a leg',
        formula: String.raw`F = c\,R_m\,\frac{\pi d^2}{4}`,
        filled: String.raw`F = ${SHEAR} \cdot ${n(tensileMPa)} \cdot \frac{\pi \cdot ${n(d)}^2}{4} = ${texQuantity(output.cutN, 'N')}`,
      },
    ]
  },
})
