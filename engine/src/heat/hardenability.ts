import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { strengthIsEstimated } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Issue, Refusal, refuse } from '../issue.ts'
import { type Composition, complete, compositionField, type Element } from '../materials/composition.ts'
import { list, quantity } from '../quantity.ts'
import { astmA255, martensiteHardnessByA255 } from './as-quenched.ts'
import { divisorAt, JOMINY_DIVISORS } from './jominy-divisors.ts'

const MM_PER_INCH = 25.4
/** The dividing factors are tabulated for ideal diameters from 1 to 7 inches. */
export const DIAMETER_MM = { min: 1 * MM_PER_INCH, max: 7 * MM_PER_INCH }
/** The only grain size for which the multiplying factors of carbon are given. */
const GRAIN_SIZE = 7

/** From here on a steel counts as treated with boron, mass percent. */
const BORON_TREATED = 0.0005

/** Analyses the method is meant for, and those its factors are still given for, mass percent. */
const MEANT_FOR: Readonly<Partial<Record<Element, readonly [number, number]>>> = {
  C: [0.1, 0.7],
  Si: [0.15, 0.6],
  Mn: [0.5, 1.65],
  Cr: [0, 1.35],
  Ni: [0, 1.5],
  Cu: [0, 0.35],
  Mo: [0, 0.55],
  V: [0, 0.2],
}
const GIVEN_UP_TO: Readonly<Partial<Record<Element, number>>> = {
  C: 0.9,
  Si: 2,
  Mn: 1.95,
  Cr: 2.5,
  Ni: 3.5,
  Cu: 0.55,
  Mo: 0.55,
  V: 0.2,
}

/** The Rockwell C scale is not used below. */
export const ROCKWELL_C_FROM = 20
export const SOFT = 'Hardness below 20 HRC is outside the Rockwell C scale: read it as soft, not as a number.'

function carbonFactor(C: number): number {
  if (C <= 0.39) return 0.54 * C
  if (C <= 0.55) return 0.171 + 0.001 * C + 0.265 * C ** 2
  if (C <= 0.65) return 0.115 + 0.268 * C - 0.038 * C ** 2
  if (C <= 0.75) return 0.143 + 0.2 * C
  return 0.062 + 0.409 * C - 0.135 * C ** 2
}

/** The multiplying factors of ASTM A255 for grain size 7; carbon in inches, the others plain. */
export function multiplyingFactors(composition: Composition) {
  const { C, Si, Mn, Ni, Cr, Mo, Cu, V } = complete(composition)
  return {
    C: carbonFactor(C),
    Mn: Mn <= 1.2 ? 3.3333 * Mn + 1 : 5.1 * Mn - 1.12,
    Si: 0.7 * Si + 1,
    Ni: Ni <= 1.5 ? 0.363 * Ni + 1 : 0.3211 + 1.4501 * Ni - 0.6119 * Ni ** 2 + 0.1253 * Ni ** 3,
    Cr: 2.16 * Cr + 1,
    Mo: 3 * Mo + 1,
    Cu: 0.365 * Cu + 1,
    V: 1.73 * V + 1,
  }
}

/** Diameter in mm that an ideal quench would turn half to martensite at its centre (ASTM A255, no boron, grain size 7). */
export function idealDiameterByA255(composition: Composition): number {
  return Object.values(multiplyingFactors(composition)).reduce((product, factor) => product * factor, MM_PER_INCH)
}

/** How deep a steel hardens: its ideal diameter and the end-quench curve that follows from it. */
export const hardenability = calculation({
  id: 'heat.hardenability',
  title: 'Hardenability from the analysis',
  summary: 'Ideal diameter and end-quench curve of a steel without boron, computed from its analysis.',
  equation: String.raw`D_I = 25.4 \cdot f_C f_{Mn} f_{Si} f_{Ni} f_{Cr} f_{Mo} f_{Cu} f_V, \quad H_x = H_0 / d_x(D_I)`,
  assumes: ['no boron', 'austenite grain size 7', 'phosphorus and sulfur offset each other'],
  sources: [astmA255],
  cautions: [strengthIsEstimated],
  input: z.strictObject({
    composition: compositionField([0.1, 0.7]),
    grainSize: quantity('G', '', 'Austenite grain size', { min: 1, max: 14, help: 'The method is given for 7' }),
  }),
  output: z.strictObject({
    idealDiameterMm: quantity('D_I', 'mm', 'Ideal diameter'),
    jominy: list(
      'End-quench curve',
      z.strictObject({
        distanceMm: quantity('x', 'mm', 'Distance from the quenched end'),
        hrc: quantity('H_x', 'HRC', 'Hardness'),
      }),
      { max: 20 },
    ),
  }),
  examples: [
    {
      title: 'SAE 4118 modified: 1.95 in (worked example of ASTM A255)',
      source: astmA255,
      input: {
        composition: { C: 0.22, Mn: 0.8, Si: 0.18, Ni: 0.1, Cr: 0.43, Mo: 0.25, Cu: 0.1, V: 0.05 },
        grainSize: 7,
      },
      output: { idealDiameterMm: 49.5 },
      tolerance: { absolute: 0.5 },
      reason: 'the example multiplies rounded factors; unrounded they give 49.08 mm',
    },
  ],
  run({ composition, grainSize }, report) {
    const beyond = issuesBeyondFactors(composition, grainSize)
    if (beyond.length > 0) return new Refusal(beyond)
    const all = complete(composition)
    for (const [element, [low, high]] of Object.entries(MEANT_FOR) as [Element, readonly [number, number]][])
      if (all[element] < low || all[element] > high)
        report.notice(
          `${element} ${all[element]} % is outside ${low} to ${high} %, the steels the method is meant for.`,
        )
    const idealDiameterMm = idealDiameterByA255(composition)
    if (idealDiameterMm < DIAMETER_MM.min || idealDiameterMm > DIAMETER_MM.max)
      return refuse({
        path: 'composition',
        code: 'out-of-reach',
        message: `The ideal diameter of ${idealDiameterMm.toFixed(1)} mm is outside the range of the dividing factors: no curve can be given.`,
        allowed: `a steel of ${DIAMETER_MM.min.toFixed(1)} to ${DIAMETER_MM.max.toFixed(1)} mm ideal diameter`,
      })
    const end = martensiteHardnessByA255(composition.C)
    const jominy = JOMINY_DIVISORS.map((divisor) => ({
      distanceMm: divisor.distanceMm,
      hrc: end / divisorAt(divisor, idealDiameterMm),
    }))
    if (jominy.some(({ hrc }) => hrc < ROCKWELL_C_FROM)) report.notice(SOFT)
    return { idealDiameterMm, jominy }
  },
  working({ input: { composition }, output }) {
    const factors = multiplyingFactors(composition)
    const end = martensiteHardnessByA255(composition.C)
    const first = output.jominy[0]
    return [
      {
        finds: 'Ideal diameter',
        formula: String.raw`D_I = 25.4 \cdot f_C f_{Mn} f_{Si} f_{Ni} f_{Cr} f_{Mo} f_{Cu} f_V`,
        filled: String.raw`D_I = 25.4 \cdot ${Object.values(factors)
          .map((factor) => texNumber(factor))
          .join(String.raw` \cdot `)} = ${texQuantity(output.idealDiameterMm, 'mm')}`,
      },
      {
        finds: 'Hardness at 3 mm',
        formula: 'H_x = H_0 / d_x(D_I)',
        filled: `H_3 = ${texNumber(end)} / ${texNumber(end / (first?.hrc ?? end))} = ${texQuantity(first?.hrc ?? end, 'HRC')}`,
      },
    ]
  },
})

function issuesBeyondFactors(composition: Composition, grainSize: number): Issue[] {
  const all = complete(composition)
  const elements = (Object.entries(GIVEN_UP_TO) as [Element, number][])
    .filter(([element, high]) => all[element] > high)
    .map(
      ([element, high]): Issue => ({
        path: `composition.${element}`,
        code: 'out-of-range',
        message: 'The method gives no factor for so much of this element.',
        value: all[element],
        allowed: `at most ${high} %`,
      }),
    )
  if (all.B >= BORON_TREATED)
    elements.push({
      path: 'composition.B',
      code: 'out-of-reach',
      message: 'This steel hardens by its boron, and no factor for boron is at hand: measure its end-quench curve.',
      value: all.B,
      allowed: `below ${BORON_TREATED} %`,
    })
  if (grainSize === GRAIN_SIZE) return elements
  return [
    ...elements,
    {
      path: 'grainSize',
      code: 'out-of-reach',
      message: 'The factors at hand hold for grain size 7, as fine-grained steels have; no other can be computed.',
      value: grainSize,
      allowed: '7',
    },
  ]
}
