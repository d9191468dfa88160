import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { movingMachinery, strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { choice, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { plasticModulus } from './section-bending.ts'
import { pinConnections, shearN } from './strength.ts'

const plasticTorque = source({
  id: 'page.fully-plastic-torque',
  status: 'handbook',
  citation: 'Elastic-plastic torsion of circular shafts, public teaching pages',
  place: 'the fully plastic torque of a solid round shaft is 4/3 of its elastic limit torque',
})

const twistModel = source({
  id: 'practice.twisted-shackle',
  status: 'common practice (no source)',
  citation:
    'A body turned against its held bow: the round legs turn in their bores, so that they are pushed sideways as a couple; each leg a beam clamped in its bore and in the grip, with a plastic hinge at either end',
  note: 'Derived here; no published twist test of a padlock shackle with its figures was found.',
})

/** Yield over tensile strength of quenched and tempered steel, where none is given; as for the pull (common practice). */
const YIELD_RATIO = 0.8
/** Shear over tension (von Mises). */
const SHEAR_YIELD = 1 / Math.sqrt(3)

const WAYS = ['leg-bending', 'leg-shear'] as const
const WAY_TITLES: Readonly<Record<(typeof WAYS)[number], string>> = {
  'leg-bending': 'legs bend out sideways',
  'leg-shear': 'legs are sheared at the body',
}

/** What torque a body must be turned with until its shackle gives way. */
export const twistStrength = calculation({
  id: 'shackle.twist-strength',
  title: 'Twist on the shackle (estimate)',
  summary:
    'Torque at which the legs bend out or are sheared when the body is turned against its held bow, the weaker named.',
  equation: String.raw`T = D \cdot \min\!\left(\frac{2\,R_p\,d^3/6}{L},\ 0.6\,R_m\,\frac{\pi d^2}{4}\right)`,
  assumes: [
    'the bow is held, the body turned about the line midway between its legs',
    'legs turn freely about themselves in round bores and are clamped there against bending; both share alike',
    'tough steel: a brittle leg snaps before it bends; balls, body and grip hold out',
    'torsion of the legs adds to it only where something keeps them from turning in their bores',
  ],
  sources: [twistModel, plasticModulus, pinConnections, plasticTorque],
  cautions: [strengthIsEstimated, movingMachinery],
  input: z.strictObject({
    barDiameterMm: quantity('d', 'mm', 'Bar diameter', { min: 0.5, max: 100 }),
    legSpacingMm: quantity('D', 'mm', 'From axis to axis of the legs', { min: 1, max: 1000 }),
    freeLengthMm: quantity('L', 'mm', 'Leg between the body and the grip', {
      min: 0,
      max: 1000,
      help: 'From the top face to where the bow is held, at least to the tangent point',
    }),
    tensileMPa: quantity('R_m', 'MPa', 'Tensile strength', { min: 50, max: 4000, trusted: [400, 2000] }),
    yieldMPa: quantity('R_p', 'MPa', 'Yield strength', {
      min: 30,
      max: 4000,
      help: 'Left out: 0.8 of the tensile strength',
    }).optional(),
  }),
  output: z.strictObject({
    twistNm: quantity('T', 'N·m', 'Torque the shackle holds'),
    weakestLink: choice('What gives way', WAYS, WAY_TITLES),
    shearNm: quantity(null, 'N·m', 'Torque that shears the legs'),
    legTorsionNm: quantity('T_p', 'N·m', 'Torque that twists one held leg through, fully plastic'),
    legTorsionYieldNm: quantity('T_e', 'N·m', 'Torque at which the skin of one held leg begins to yield'),
  }),
  examples: [
    {
      title: 'a solid round leg: twisted through at 4/3 of the torque at which it begins to yield (teaching pages)',
      source: plasticTorque,
      input: { barDiameterMm: 20, legSpacingMm: 60, freeLengthMm: 60, tensileMPa: 1000, yieldMPa: Math.sqrt(3) * 300 },
      output: {
        legTorsionYieldNm: (Math.PI * 8000 * 300) / 16e3,
        legTorsionNm: ((4 / 3) * Math.PI * 8000 * 300) / 16e3,
      },
      tolerance: { relative: 1e-9 },
      reason: 'a formula identity',
    },
    {
      title:
        '12 mm of 600 MPa yield, 40 mm apart, 36 mm free: hinges of d³/6 · 600 give 384 N·m (plastic modulus d³/6)',
      source: plasticModulus,
      input: { barDiameterMm: 12, legSpacingMm: 40, freeLengthMm: 36, tensileMPa: 1000, yieldMPa: 600 },
      output: { twistNm: 384, weakestLink: 'leg-bending' },
      tolerance: { relative: 1e-9 },
      reason: 'a formula identity',
    },
  ],
  run({ barDiameterMm: d, legSpacingMm: D, freeLengthMm: L, tensileMPa, yieldMPa }, { notice }) {
    if (D <= d)
      return refuse({
        path: 'legSpacingMm',
        code: 'contradiction',
        message: 'The legs would lie in each other.',
        value: D,
        allowed: `above ${d} mm`,
      })
    if (yieldMPa !== undefined && yieldMPa > tensileMPa)
      return refuse({
        path: 'yieldMPa',
        code: 'contradiction',
        message: 'A steel yields before it breaks.',
        value: yieldMPa,
        allowed: `at most ${tensileMPa} MPa`,
      })
    if (yieldMPa === undefined) notice('Yield strength is taken as 0.8 of the tensile strength.')
    const Rp = yieldMPa ?? YIELD_RATIO * tensileMPa
    const shear = (shearN((Math.PI / 4) * d ** 2, tensileMPa) * D) / 1000 // N·mm → N·m
    // A leg held right at the body cannot bend: it is sheared.
    const hinges = (2 * Rp * d ** 3) / 6
    const bends = hinges * D < 1000 * shear * L
    const twistNm = bends ? (hinges / L) * (D / 1000) : shear
    return {
      twistNm,
      weakestLink: bends ? ('leg-bending' as const) : ('leg-shear' as const),
      shearNm: shear,
      legTorsionNm: (Math.PI * d ** 3 * SHEAR_YIELD * Rp) / 12_000,
      legTorsionYieldNm: (Math.PI * d ** 3 * SHEAR_YIELD * Rp) / 16_000,
    }
  },
  working({ input: { barDiameterMm: d, legSpacingMm: D, freeLengthMm: L, tensileMPa, yieldMPa }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Torque that shears the legs',
        formula: String.raw`T_s = 0.6\,R_m\,\frac{\pi d^2}{4}\,D`,
        filled: String.raw`T_s = 0.6 \cdot ${n(tensileMPa)} \cdot \frac{\pi \cdot ${n(d)}^2}{4} \cdot \frac{${n(D)}}{1000} = ${texQuantity(output.shearNm, 'N·m')}`,
      },
      {
        finds: `Torque the shackle holds (${WAY_TITLES[output.weakestLink]})`,
        formula: String.raw`T = D \cdot \frac{2\,R_p\,d^3}{6\,L} \le T_s`,
        filled: String.raw`T = \min\!\left(\frac{${n(D)}}{1000} \cdot \frac{2 \cdot ${n(yieldMPa ?? YIELD_RATIO * tensileMPa)} \cdot ${n(d)}^3}{6 \cdot ${n(L)}},\ T_s\right) = ${texQuantity(output.twistNm, 'N·m')}`,
      },
    ]
  },
})
