import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Refusal, refuse } from '../issue.ts'
import {
  type CylinderSeries,
  cylinderSeries,
  fourierForShare,
  heatShare,
  LEAST_FOURIER,
  shareToGo,
} from '../numeric/cylinder-conduction.ts'
import { choice, percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

export const cengelCylinder = source({
  id: 'cengel.cylinder-conduction',
  status: 'handbook',
  citation: 'Y. A. Çengel, Heat Transfer, chapter on transient conduction, long cylinder',
  place: 'Table 4-2 (roots and weights); solved problem of a stainless shaft, 35 cm, cooling from 400 °C in air',
})

const heatTransferLibrary = source({
  id: 'library.cylinder-conduction',
  status: 'handbook',
  citation: 'Heat-transfer library of an equation-solving program, pages on the long cylinder',
  place: 'Fo = 0.23, Bi = 1.02: local temperature at r/R = 0.3, and heat passed',
})

/** One term is usually taken as enough above this Fourier number. */
const ONE_TERM_FROM = 0.2
/** Below this Biot number on the half radius, the whole section is as hot as its surface for practical ends. */
const LUMPED_BELOW = 0.1
/** Nearer to the end temperature than this share no time is given: the end is approached, never reached. */
const LEAST_SHARE = 1e-6

const dimensionless = { diameterMm: 20, heatTransferWPerM2K: 1020, conductivityWPerMK: 10 }
const shaft = {
  diameterMm: 350,
  startC: 400,
  surroundingsC: 150,
  heatTransferWPerM2K: 60,
  conductivityWPerMK: 14.9,
  densityKgPerM3: 7900,
  specificHeatJPerKgK: 477,
  minutes: 20,
}

/** Heating or cooling of a round bar through its section: temperatures after a time, or the time to a temperature. */
export const cylinderTransient = calculation({
  id: 'heat.cylinder-transient',
  title: 'Heating or cooling of a round bar',
  summary:
    'Temperature at the centre, at the surface and at a radius of a long round after a time, or the time to reach a temperature there; heat that has passed.',
  equation: String.raw`\theta = \sum_n A_n\,e^{-\lambda_n^2 Fo}\,J_0(\lambda_n \rho), \quad \lambda J_1(\lambda) = Bi\,J_0(\lambda)`,
  assumes: [
    'long against its diameter, heated all round alike',
    'one heat transfer coefficient and one set of properties over the whole step',
    'no heat of transformation',
  ],
  sources: [cengelCylinder, heatTransferLibrary],
  cautions: [hotSteel],
  input: z.strictObject({
    diameterMm: quantity('D', 'mm', 'Diameter', { min: 0.1, max: 5000 }),
    startC: quantity(String.raw`\vartheta_0`, '°C', 'Temperature at the start', { min: -200, max: 1600 }),
    surroundingsC: quantity(String.raw`\vartheta_\infty`, '°C', 'Temperature around it', { min: -200, max: 1600 }),
    heatTransferWPerM2K: quantity('h', 'W/(m²·K)', 'Heat transfer coefficient', { min: 0.1, max: 100_000 }),
    conductivityWPerMK: quantity('k', 'W/(m·K)', 'Thermal conductivity', { min: 0.1, max: 2000 }),
    densityKgPerM3: quantity(String.raw`\varrho`, 'kg/m³', 'Density', { min: 10, max: 30_000 }),
    specificHeatJPerKgK: quantity('c', 'J/(kg·K)', 'Specific heat', { min: 10, max: 10_000 }),
    radiusShare: quantity(String.raw`\rho`, '', 'Place: share of the radius from the centre', {
      min: 0,
      max: 1,
    }).default(0),
    minutes: quantity('t', 'min', 'Time', {
      min: 1e-6,
      max: 1e6,
      help: 'Give this or the temperature wanted, not both',
    }).optional(),
    targetC: quantity(null, '°C', 'Temperature wanted at that place', {
      min: -200,
      max: 1600,
      help: 'Give this or the time, not both',
    }).optional(),
    terms: choice('Terms of the series', ['series', 'one-term'], {
      series: 'As many as it takes',
      'one-term': 'One, as in charts',
    }).default('series'),
  }),
  output: z.strictObject({
    minutes: quantity('t', 'min', 'Time'),
    biot: quantity('Bi', '', 'Biot number hR/k'),
    fourier: quantity('Fo', '', 'Fourier number αt/R²'),
    centreC: quantity(null, '°C', 'Temperature at the centre'),
    surfaceC: quantity(null, '°C', 'Temperature at the surface'),
    placeC: quantity(null, '°C', 'Temperature at that place'),
    heatPercent: percent(null, 'Heat that has passed, of all that will'),
    heatKJPerM: quantity('Q', 'kJ/m', 'Heat that has passed, per metre'),
    totalHeatKJPerM: quantity('Q_{max}', 'kJ/m', 'Heat of the whole step, per metre'),
    firstRoot: quantity(String.raw`\lambda_1`, '', 'First root'),
    firstWeight: quantity('A_1', '', 'First weight'),
    oneTermEnough: z.boolean().meta({ title: 'One term would have been enough (Fo above 0.2)' }),
    lumped: z.boolean().meta({ title: 'The section is all of one temperature for practical ends' }),
  }),
  examples: [
    {
      title: 'stainless shaft 35 cm, 400 → 150 °C, 20 min, one term: centre 390 °C, 15 960 of 90 640 kJ/m (Çengel)',
      source: cengelCylinder,
      input: { ...shaft, terms: 'one-term' },
      output: { biot: 0.705, firstRoot: 1.0904, firstWeight: 1.1548, fourier: 0.1548, centreC: 390, heatKJPerM: 15960 },
      tolerance: { relative: 5e-3 },
      reason: 'three printed figures, table interpolated; with all terms it is 385.7 °C and 15 819 kJ/m',
    },
    {
      title: 'Fo 0.23, Bi 1.02: 31.9 % of the heat has passed (library)',
      source: heatTransferLibrary,
      input: {
        ...dimensionless,
        startC: 100,
        surroundingsC: 0,
        densityKgPerM3: 1000,
        specificHeatJPerKgK: 1000,
        minutes: 2.3 / 60,
      },
      output: { heatPercent: 31.9 },
      tolerance: { absolute: 0.05 },
      reason: 'printed to three decimals of the share',
    },
    {
      title: 'Fo 0.23, Bi 1.02: 0.8034 of the step to go at r/R = 0.3 (library)',
      source: heatTransferLibrary,
      input: {
        ...dimensionless,
        startC: 100,
        surroundingsC: 0,
        densityKgPerM3: 1000,
        specificHeatJPerKgK: 1000,
        radiusShare: 0.3,
        minutes: 2.3 / 60,
      },
      output: { placeC: 80.34 },
      tolerance: { absolute: 0.02 },
      reason: 'printed to four decimals of the share',
    },
  ],
  run(input, report) {
    const { diameterMm, startC, surroundingsC, radiusShare, terms } = input
    const R = diameterMm / 2000 // mm → m, half
    const { heatTransferWPerM2K: h, conductivityWPerMK: k, densityKgPerM3: rho, specificHeatJPerKgK: c } = input
    const biot = (h * R) / k
    const perSecond = k / (rho * c * R * R) // Fo per second
    const series = cylinderSeries(biot)
    const fourier = fourierAsked(input, series, perSecond)
    if (typeof fourier !== 'number') return fourier
    const kept = terms === 'one-term' ? 1 : undefined
    const at = (place: number) =>
      surroundingsC +
      (startC - surroundingsC) *
        shareToGo(series, { fourier, radiusShare: place, ...(kept === undefined ? {} : { terms: kept }) })
    const passed = heatShare(series, fourier, kept)
    const totalHeatKJPerM = (rho * c * Math.PI * R * R * Math.abs(startC - surroundingsC)) / 1000 // J → kJ
    const oneTermEnough = fourier > ONE_TERM_FROM
    if (terms === 'one-term' && !oneTermEnough)
      report.notice(`One term is not enough at Fo = ${fourier.toPrecision(3)}: above 0.2 it errs by less than 2 %.`)
    return {
      minutes: fourier / perSecond / 60,
      biot,
      fourier,
      centreC: at(0),
      surfaceC: at(1),
      placeC: at(radiusShare),
      heatPercent: 100 * passed,
      heatKJPerM: passed * totalHeatKJPerM,
      totalHeatKJPerM,
      firstRoot: series.roots[0] ?? 0,
      firstWeight: series.weights[0] ?? 0,
      oneTermEnough,
      lumped: biot / 2 < LUMPED_BELOW,
    }
  },
  working({ input: { heatTransferWPerM2K, diameterMm, conductivityWPerMK, startC, surroundingsC }, output }) {
    const n = texNumber
    return [
      {
        finds: 'Biot number',
        formula: String.raw`Bi = \frac{h D}{2 k}`,
        filled: String.raw`Bi = \frac{${n(heatTransferWPerM2K)} \cdot ${n(diameterMm / 1000)}}{2 \cdot ${n(conductivityWPerMK)}} = ${n(output.biot)}`,
      },
      {
        finds: 'First term at the centre (the further terms are added where they count)',
        formula: String.raw`\vartheta \approx \vartheta_\infty + (\vartheta_0 - \vartheta_\infty)\,A_1 e^{-\lambda_1^2 Fo}`,
        filled: String.raw`\vartheta \approx ${n(surroundingsC)} + (${n(startC)} - ${n(surroundingsC)}) \cdot ${n(output.firstWeight)}\,e^{-${n(output.firstRoot)}^2 \cdot ${n(output.fourier)}}, \quad \text{with all terms } ${texQuantity(output.centreC, '°C')}`,
      },
    ]
  },
})

type Asked = z.output<typeof cylinderTransient.input>

/** The Fourier number of the time given, or of the time at which the temperature wanted is reached. */
function fourierAsked(input: Asked, series: CylinderSeries, perSecond: number): number | Refusal {
  const { minutes, targetC, startC, surroundingsC, radiusShare } = input
  if ((minutes === undefined) === (targetC === undefined))
    return refuse({
      path: 'minutes',
      code: 'contradiction',
      message: 'Give either the time or the temperature wanted, not both and not neither.',
      allowed: 'one of minutes, targetC',
    })
  const soonest = `at least ${(LEAST_FOURIER / perSecond / 60).toPrecision(3)} min`
  if (minutes !== undefined) {
    const fourier = minutes * 60 * perSecond
    if (fourier >= LEAST_FOURIER) return fourier
    return refuse({
      path: 'minutes',
      code: 'out-of-reach',
      message: 'In so short a time the heat has hardly entered the bar: the series is not used for it.',
      value: minutes,
      allowed: soonest,
    })
  }
  const share = ((targetC ?? 0) - surroundingsC) / (startC - surroundingsC)
  if (!(share >= LEAST_SHARE && share < 1))
    return refuse({
      path: 'targetC',
      code: 'contradiction',
      message: 'The temperature wanted must lie between that at the start and that around the bar.',
      value: targetC,
      allowed: `between ${startC} and ${surroundingsC} °C`,
    })
  return (
    fourierForShare(series, { share, radiusShare }) ??
    refuse({
      path: 'targetC',
      code: 'out-of-reach',
      message: 'That place reaches this temperature almost at once, sooner than the series is used for.',
      value: targetC,
      allowed: `a temperature that takes ${soonest}`,
    })
  )
}
