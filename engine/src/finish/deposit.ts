import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hexavalentChromium, nickelSalts, rectifierCurrent, trivalentChromium } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import {
  DEPOSIT_METALS,
  type DepositMetalName,
  deposits,
  FARADAY,
  platingConstants,
  rememberedDeposits,
} from '../materials/deposits.ts'
import { choice, percent, quantity } from '../quantity.ts'
import { isPublished, source } from '../source.ts'

const faradayLaw = source({
  id: 'handbook.nickel-thickness-by-charge',
  status: 'handbook',
  citation: "Faraday's law for a nickel deposit, as a nickel plating handbook writes it, read in a transcription",
  place: 'd(µm) = 12.294 · I(A) · t(h) / A(dm²) at 100 % efficiency and 8.907 g/cm³',
})

const nickelTimeChart = source({
  id: 'chart.nickel-plating-times',
  status: 'handbook',
  citation: 'Plating time chart for nickel at 95 % efficiency, public finishing handbook article 779',
  place: 'columns 2, 4 and 6 µm',
  note: 'Printed to two figures.',
})

/**
 * How long a deposit of a wanted mean thickness takes at a constant current density, or how thick one of a given time is.
 *
 * Faraday's law for a layer of thickness h: the charge per area j·t, times the share η that deposits metal, equals the
 * charge n·F·ρ·h/M that the layer holds.
 */
export const deposit = calculation({
  id: 'finish.deposit',
  title: 'Time and current for a plated thickness',
  summary:
    'Time in the tank for a wanted mean thickness, or the thickness a given time plates; rectifier current, charge and metal used.',
  equation: String.raw`t = \frac{h\,n\,F\,\rho}{j\,M\,\eta}`,
  assumes: [
    'h is the mean over the plated area: edges plate thicker, recesses thinner',
    'current density and efficiency stay constant',
  ],
  sources: [faradayLaw, platingConstants, rememberedDeposits],
  cautions: [rectifierCurrent, nickelSalts, trivalentChromium, hexavalentChromium],
  input: z.strictObject({
    metal: choice('Metal', DEPOSIT_METALS, Object.fromEntries(DEPOSIT_METALS.map((m) => [m, deposits[m].title]))),
    areaDm2: quantity('A', 'dm²', 'Plated area of the load', { min: 1e-4, max: 10_000 }),
    currentDensityAPerDm2: quantity('j', 'A/dm²', 'Current density', { min: 0.001, max: 200, trusted: [0.1, 60] }),
    efficiencyPercent: percent(String.raw`\eta`, 'Cathode efficiency', { min: 0.1, max: 100, trusted: [5, 100] }),
    thicknessUm: quantity('h', 'µm', 'Mean thickness', {
      min: 0.001,
      max: 1000,
      trusted: [0.1, 50],
      help: 'Give this or the time, not both',
    }).optional(),
    minutes: quantity('t', 'min', 'Time in the tank', {
      min: 0.001,
      max: 100_000,
      help: 'Give this or the thickness, not both',
    }).optional(),
  }),
  output: z.strictObject({
    thicknessUm: quantity('h', 'µm', 'Mean thickness'),
    minutes: quantity('t', 'min', 'Time in the tank'),
    massG: quantity('m', 'g', 'Metal deposited'),
    currentA: quantity('I', 'A', 'Rectifier current'),
    ampereHours: quantity('Q', 'Ah', 'Charge passed'),
  }),
  examples: [
    {
      title: 'nickel, 6 µm at 2 A/dm² and 95 % takes 15 min (time chart, row 6 µm)',
      source: nickelTimeChart,
      input: { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 2, efficiencyPercent: 95, thicknessUm: 6 },
      output: { minutes: 15 },
      tolerance: { absolute: 0.5 },
      reason: 'printed to two figures',
    },
    {
      title: 'nickel, 1.095 g per ampere hour (electrochemical table)',
      source: platingConstants,
      input: { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 1, efficiencyPercent: 100, minutes: 60 },
      output: { massG: 1.095, ampereHours: 1 },
      tolerance: { relative: 1e-3 },
      reason: 'printed to four figures',
    },
    {
      title: 'nickel, 1 A over 1 dm² for an hour: 12.294 µm (nickel plating handbook)',
      source: faradayLaw,
      input: { metal: 'nickel', areaDm2: 1, currentDensityAPerDm2: 1, efficiencyPercent: 100, minutes: 60 },
      output: { thicknessUm: 12.294 },
      tolerance: { relative: 1e-3 },
      reason: 'density 8.907 there, 8.90 here',
    },
    {
      title: 'chromium from Cr(VI), 0.3234 g per ampere hour: six electrons (electrochemical table)',
      source: platingConstants,
      input: { metal: 'chromium(VI)', areaDm2: 1, currentDensityAPerDm2: 1, efficiencyPercent: 100, minutes: 60 },
      output: { massG: 0.3234 },
      tolerance: { relative: 3e-3 },
      reason: 'printed to four figures; molar mass rounded there',
    },
  ],
  run({ metal, areaDm2, currentDensityAPerDm2, efficiencyPercent, thicknessUm, minutes }, { notice }) {
    if ((thicknessUm === undefined) === (minutes === undefined))
      return refuse({
        path: 'thicknessUm',
        code: 'contradiction',
        message: 'Give either the thickness wanted or the time in the tank, not both and not neither.',
        allowed: 'one of thicknessUm, minutes',
      })
    const { densityKgPerM3: rho, source: densitySource } = deposits[metal]
    if (!isPublished(densitySource)) notice(`${densitySource.citation}.`)
    const metresPerSecond = growthMPerS({ metal, currentDensityAPerDm2, efficiencyPercent })
    const t = minutes === undefined ? ((thicknessUm ?? 0) * 1e-6) / metresPerSecond : minutes * 60 // µm → m, min → s
    const h = metresPerSecond * t
    const area = areaDm2 * 0.01 // dm² → m²
    const currentA = currentDensityAPerDm2 * areaDm2
    return {
      thicknessUm: thicknessUm ?? h * 1e6,
      minutes: t / 60,
      massG: h * area * rho * 1000,
      currentA,
      ampereHours: (currentA * t) / 3600,
    }
  },
  working({ input: { metal, currentDensityAPerDm2, efficiencyPercent, areaDm2 }, output }) {
    const { molarMassKgPerMol: M, electrons: n, densityKgPerM3: rho } = deposits[metal]
    return [
      {
        finds: 'Time in the tank',
        formula: String.raw`t = \frac{h\,n\,F\,\rho}{j\,M\,\eta}`,
        filled: String.raw`t = \frac{${texNumber(output.thicknessUm * 1e-6)} \cdot ${n} \cdot ${FARADAY.toFixed(0)} \cdot ${rho}}{${texNumber(currentDensityAPerDm2 * 100)} \cdot ${texNumber(M)} \cdot ${texNumber(efficiencyPercent / 100)}}\,\text{s} = ${texQuantity(output.minutes, 'min')}`,
      },
      {
        finds: 'Rectifier current',
        formula: 'I = j A',
        filled: String.raw`I = ${texNumber(currentDensityAPerDm2)} \cdot ${texNumber(areaDm2)} = ${texQuantity(output.currentA, 'A')}`,
      },
    ]
  },
})

interface Plating {
  readonly metal: DepositMetalName
  readonly currentDensityAPerDm2: number
  readonly efficiencyPercent: number
}

/** How fast a deposit grows, by Faraday's law. */
function growthMPerS({ metal, currentDensityAPerDm2, efficiencyPercent }: Plating): number {
  const { molarMassKgPerMol: M, electrons: n, densityKgPerM3: rho } = deposits[metal]
  const j = currentDensityAPerDm2 * 100 // A/dm² → A/m²
  return (j * M * (efficiencyPercent / 100)) / (n * FARADAY * rho)
}

/** Minutes until a deposit has a mean thickness in µm. */
export function depositMinutes({ thicknessUm, ...plating }: Plating & { readonly thicknessUm: number }): number {
  return (thicknessUm * 1e-6) / growthMPerS(plating) / 60 // µm → m, s → min
}
