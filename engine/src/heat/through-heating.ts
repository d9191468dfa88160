import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { hotSteel850, hotSteelConductivity, quenchHeats } from '../materials/heat-properties.ts'
import { sheet34CrMo4 } from '../materials/steel-sources.ts'
import { cylinderSeries, fourierForShare, LEAST_FOURIER } from '../numeric/cylinder-conduction.ts'
import { quantity } from '../quantity.ts'
import { source } from '../source.ts'
import { cengelCylinder } from './cylinder-transient.ts'
import { lumpedBall } from './lumped-body.ts'

const furnaceHeatTransfer = source({
  id: 'practice.furnace-heat-transfer',
  status: 'common practice (no source)',
  citation: 'Mean heat transfer coefficient in a chamber furnace near 850 °C, parts hanging free: about 100 W/(m²·K)',
  note: 'A packed basket takes far longer. Measure with a couple in the slowest part before relying on it.',
})

/** How long until the core of a round is as hot as the furnace, but for a stated gap: the soak counts from there. */
export const throughHeating = calculation({
  id: 'heat.through-heating',
  title: 'Time until the core is hot',
  summary:
    'How long a round bar needs in the furnace until its core lies within a stated gap of the furnace temperature; the soak counts from then.',
  equation: String.raw`\theta_{core}(Fo) = \frac{\Delta}{\vartheta_f - \vartheta_0}`,
  assumes: [
    'the furnace keeps its temperature when the cold charge goes in',
    'parts stand free of each other; one heat transfer coefficient over the whole heating',
    'no heat of transformation near Ac1: the true time is somewhat longer',
  ],
  sources: [cengelCylinder, quenchHeats, hotSteelConductivity, sheet34CrMo4, furnaceHeatTransfer],
  cautions: [hotSteel],
  input: z.strictObject({
    diameterMm: quantity('D', 'mm', 'Thickest section', { min: 0.5, max: 1000, trusted: [3, 200] }),
    furnaceC: quantity(String.raw`\vartheta_f`, '°C', 'Furnace temperature', { min: 100, max: 1300 }),
    startC: quantity(String.raw`\vartheta_0`, '°C', 'Temperature of the charge', { min: -50, max: 1000 }).default(20),
    gapK: quantity(String.raw`\Delta`, 'K', 'Gap that is left at the core', { min: 0.5, max: 100 }).default(10),
    heatTransferWPerM2K: quantity('h', 'W/(m²·K)', 'Heat transfer coefficient of the furnace', {
      min: 5,
      max: 5000,
      trusted: [30, 400],
      help: 'About 100 near 850 °C for parts that hang free (common practice)',
    }).default(100),
    conductivityWPerMK: quantity('k', 'W/(m·K)', 'Thermal conductivity', { min: 5, max: 100 }).default(
      hotSteel850.conductivityWPerMK,
    ),
    specificHeatJPerKgK: quantity('c', 'J/(kg·K)', 'Specific heat', { min: 200, max: 2000 }).default(
      hotSteel850.specificHeatJPerKgK,
    ),
  }),
  output: z.strictObject({
    minutes: quantity('t', 'min', 'Time until the core is hot'),
    biot: quantity('Bi', '', 'Biot number hR/k'),
    coreC: quantity(null, '°C', 'Core temperature then'),
  }),
  examples: [
    {
      title: 'round of 20 mm, 500 → 100 °C with h = 600: 3/2 of the 39.9 s of the ball (worked example), heated here',
      source: lumpedBall,
      input: {
        diameterMm: 20,
        furnaceC: 500,
        startC: 30,
        gapK: 70,
        heatTransferWPerM2K: 600,
        conductivityWPerMK: 50,
        specificHeatJPerKgK: 480,
      },
      output: { minutes: (1.5 * 39.9) / 60 },
      tolerance: { relative: 0.05 },
      reason:
        'the example has no gradient inside; Bi/4 = 3 % more time with it. Ratio of step and gap as there (470 : 70)',
    },
  ],
  run({ diameterMm, furnaceC, startC, gapK, heatTransferWPerM2K, conductivityWPerMK, specificHeatJPerKgK }, report) {
    if (furnaceC - startC <= gapK)
      return refuse({
        path: 'furnaceC',
        code: 'contradiction',
        message: 'The charge is already as hot as asked for.',
        value: furnaceC,
        allowed: `above ${startC + gapK} °C`,
      })
    const R = diameterMm / 2000 // mm → m, half
    const biot = (heatTransferWPerM2K * R) / conductivityWPerMK
    const perMinute = (60 * conductivityWPerMK) / (hotSteel850.densityKgPerM3 * specificHeatJPerKgK * R * R)
    const share = gapK / (furnaceC - startC)
    // The core cannot be there before the series may be asked: in that time no heat reaches it.
    const fourier = fourierForShare(cylinderSeries(biot), { share, radiusShare: 0 }) ?? LEAST_FOURIER
    report.notice(
      'The heat transfer coefficient of the furnace decides and is not measured here: check with a couple in the slowest part.',
    )
    return { minutes: fourier / perMinute, biot, coreC: furnaceC - gapK }
  },
  working({ input: { heatTransferWPerM2K, diameterMm, conductivityWPerMK, gapK, furnaceC, startC }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Biot number',
        formula: String.raw`Bi = \frac{h D}{2 k}`,
        filled: String.raw`Bi = \frac{${n(heatTransferWPerM2K)} \cdot ${n(diameterMm / 1000)}}{2 \cdot ${n(conductivityWPerMK)}} = ${n(output.biot)}`,
      },
      {
        finds: 'Time, from the series at the centre',
        formula: String.raw`\theta_{core}(t) = \frac{\Delta}{\vartheta_f - \vartheta_0}`,
        filled: String.raw`\theta_{core}(t) = \frac{${n(gapK)}}{${n(furnaceC)} - ${n(startC)}} \;\Rightarrow\; t = ${texQuantity(output.minutes, 'min')}`,
      },
    ]
  },
})
