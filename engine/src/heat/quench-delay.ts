import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, quenchOil } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Issue, Refusal } from '../issue.ts'
import { hotSteel850, quenchHeats } from '../materials/heat-properties.ts'
import { integrate } from '../numeric/quadrature.ts'
import { choice, quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { lumpedBall } from './lumped-body.ts'

export const transferPractice = source({
  id: 'practice.furnace-to-bath',
  status: 'common practice (no source)',
  citation: 'Steel goes into the bath while all of it is still austenite: nowhere colder than Ac3',
  note: 'On the strict side: on cooling austenite lasts to below Ac3.',
})
const coolingInAir = source({
  id: 'memory.cooling-in-air',
  status: 'from memory (unverified)',
  citation:
    'Stefan–Boltzmann constant 5.670374 × 10⁻⁸ W/(m²·K⁴); emissivity of scaled steel about 0.8; still air about 15 W/(m²·K)',
})

const STEFAN_BOLTZMANN = 5.670374e-8
const ZERO_CELSIUS_K = 273.15

const SHAPES = ['round', 'flat', 'ball'] as const
/** Section over the volume for each unit of surface. */
const SECTION_OVER_DEPTH = { round: 4, flat: 2, ball: 6 } as const

/** How long a part may hang in the air between furnace and bath. */
export const quenchDelay = calculation({
  id: 'heat.quench-delay',
  title: 'Longest way from furnace to bath',
  summary:
    'How many seconds a part that hangs free in the air takes from the furnace temperature down to a temperature it must not fall below before the quench.',
  equation: String.raw`t = \frac{\rho c\,V}{A} \int_{\vartheta_e}^{\vartheta_s} \frac{d\vartheta}{\varepsilon\sigma\,(T^4 - T_0^4) + h\,(\vartheta - \vartheta_0)}`,
  assumes: [
    'the part is as hot inside as at its surface: thin sections',
    'it hangs free and sees cold surroundings on all sides; inside a packed basket parts stay hot longer, at its edge they do not',
    'no heat of transformation',
  ],
  sources: [transferPractice, coolingInAir, quenchHeats, lumpedBall],
  cautions: [hotSteel, quenchOil],
  input: z.strictObject({
    shape: choice('Shape', SHAPES, { round: 'Long round', flat: 'Wide flat', ball: 'Ball' }).default('round'),
    sectionMm: quantity('D', 'mm', 'Diameter or thickness', { min: 0.5, max: 200, trusted: [1, 40] }),
    startC: quantity(String.raw`\vartheta_s`, '°C', 'Out of the furnace at', { min: 100, max: 1300 }),
    endC: quantity(String.raw`\vartheta_e`, '°C', 'Not colder than', { min: 50, max: 1300 }),
    surroundingsC: quantity(String.raw`\vartheta_0`, '°C', 'Surroundings', { min: -30, max: 500 }).default(20),
    emissivity: quantity(String.raw`\varepsilon`, '', 'Emissivity', { min: 0, max: 1 }).default(0.8),
    heatTransferWPerM2K: quantity('h', 'W/(m²·K)', 'Heat transfer to the air', {
      min: 0,
      max: 5000,
      help: 'About 15 in still air',
    }).default(15),
    specificHeatJPerKgK: quantity('c', 'J/(kg·K)', 'Specific heat', { min: 200, max: 2000 }).default(
      hotSteel850.specificHeatJPerKgK,
    ),
  }),
  output: z.strictObject({
    seconds: quantity('t', 's', 'Longest from furnace to bath'),
    kelvinPerSecond: quantity(null, 'K/s', 'Loses at first'),
  }),
  examples: [
    {
      title: 'ball of 20 mm, 500 to 100 °C in a bath of 30 °C, h = 600: 39.9 s (worked example, no radiation)',
      source: lumpedBall,
      input: {
        shape: 'ball',
        sectionMm: 20,
        startC: 500,
        endC: 100,
        surroundingsC: 30,
        emissivity: 0,
        heatTransferWPerM2K: 600,
        specificHeatJPerKgK: 480,
      },
      output: { seconds: 39.9 },
      tolerance: { absolute: 0.1 },
      reason: 'printed to a tenth',
    },
  ],
  run({ shape, sectionMm, specificHeatJPerKgK, ...air }) {
    const wrong = contradictions(air)
    if (wrong.length > 0) return new Refusal(wrong)
    const { startC, endC } = air
    const flux = fluxOf(air)
    const depthM = sectionMm / 1000 / SECTION_OVER_DEPTH[shape] // mm → m, volume over surface
    const perArea = hotSteel850.densityKgPerM3 * specificHeatJPerKgK * depthM // J/(m²·K)
    // Smooth and far from its pole: a few panels are enough.
    const { value, converged } = integrate((t) => 1 / flux(t), [endC, startC], { relative: 1e-10, maxPanels: 200 })
    if (!converged) throw new Error('the cooling integral did not converge')
    return { seconds: perArea * value, kelvinPerSecond: flux(startC) / perArea }
  },
  working({ input: { startC, endC, sectionMm, emissivity, heatTransferWPerM2K }, output }) {
    return [
      {
        finds: 'Time until it has cooled so far',
        formula: String.raw`t = \frac{\rho c\,V}{A} \int_{\vartheta_e}^{\vartheta_s} \frac{d\vartheta}{\varepsilon\sigma\,(T^4 - T_0^4) + h\,(\vartheta - \vartheta_0)}`,
        filled: String.raw`D = ${texNumber(sectionMm)}\,\text{mm},\; \varepsilon = ${texNumber(emissivity)},\; h = ${texNumber(heatTransferWPerM2K)}:\; ${texNumber(startC)} \to ${texNumber(endC)}\,\text{°C} \;\Rightarrow\; t = ${texQuantity(output.seconds, 's')}`,
      },
    ]
  },
})

interface Air {
  readonly startC: number
  readonly endC: number
  readonly surroundingsC: number
  readonly emissivity: number
  readonly heatTransferWPerM2K: number
}

/** Heat that leaves the surface, W/m², by its temperature. */
function fluxOf({ surroundingsC, emissivity, heatTransferWPerM2K }: Air): (surfaceC: number) => number {
  const around = (surroundingsC + ZERO_CELSIUS_K) ** 4
  return (surfaceC) =>
    emissivity * STEFAN_BOLTZMANN * ((surfaceC + ZERO_CELSIUS_K) ** 4 - around) +
    heatTransferWPerM2K * (surfaceC - surroundingsC)
}

/** Nearer to the surroundings than this the time grows without end. */
const LEAST_GAP_K = 1

function contradictions({ startC, endC, surroundingsC, emissivity, heatTransferWPerM2K }: Air): Issue[] {
  const issues: Issue[] = []
  if (endC >= startC)
    issues.push({
      path: 'endC',
      code: 'contradiction',
      message: 'Out of the furnace the part is no hotter than it must stay.',
      value: endC,
      allowed: `below ${startC} °C`,
    })
  if (surroundingsC > endC - LEAST_GAP_K)
    issues.push({
      path: 'surroundingsC',
      code: 'contradiction',
      message: 'The part never falls to the temperature of its surroundings.',
      value: surroundingsC,
      allowed: `at most ${endC - LEAST_GAP_K} °C`,
    })
  // So little heat is lost that the time would say nothing.
  if (emissivity < 0.01 && heatTransferWPerM2K < 0.1)
    issues.push({
      path: 'heatTransferWPerM2K',
      code: 'contradiction',
      message: 'Neither radiation nor air takes any heat away.',
      value: heatTransferWPerM2K,
      allowed: 'at least 0.1 W/(m²·K), or an emissivity of at least 0.01',
    })
  return issues
}
