import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { hotSteel, quenchOil } from '../caution.ts'
import { texNumber, texQuantity } from '../display.ts'
import { refuse } from '../issue.ts'
import { bathSpecificHeat, hotSteel850, QUENCH_BATHS, quenchHeats } from '../materials/heat-properties.ts'
import { choice, percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const machineOilProblem = source({
  id: 'school.quench-in-machine-oil',
  status: 'handbook',
  citation: 'School problem: a steel part of 300 g heats 3 kg of machine oil from 10 to 30 °C; 500 and 1640 J/(kg·K)',
  note: 'Its formula gives 686 °C for the part; the page adds up to 676. The formula is taken, not the sum.',
})
const furnaceEfficiency = source({
  id: 'practice.furnace-efficiency',
  status: 'common practice (no source)',
  citation:
    'Share of the furnace energy that ends in charge and basket: 30 to 60 % as a rule; read the meter of a full week',
})

/** What a furnace charge takes to heat, and how warm it makes the bath. */
export const chargeHeat = calculation({
  id: 'heat.charge-heat',
  title: 'Energy of a charge and rise of the bath',
  summary: 'Energy to heat parts and basket, and how far the quench bath warms when they go in together.',
  equation: String.raw`E = \frac{m c\,(\vartheta_h - \vartheta_0)}{\eta}, \quad \vartheta_e = \frac{m c\,\vartheta_q + m_b c_b\,\vartheta_b}{m c + m_b c_b}`,
  assumes: [
    'parts and basket are of steel with one mean specific heat; no heat of transformation',
    'the bath is mixed, loses and gains nothing else while the charge cools to its temperature',
  ],
  sources: [quenchHeats, furnaceEfficiency],
  cautions: [hotSteel, quenchOil],
  input: z.strictObject({
    partsKg: quantity('m', 'kg', 'Mass of the parts', { min: 0.001, max: 100_000 }),
    basketKg: quantity(null, 'kg', 'Mass of the basket', { min: 0, max: 100_000 }).default(0),
    startC: quantity(String.raw`\vartheta_0`, '°C', 'Charge goes in at', { min: -50, max: 1000 }).default(20),
    hardeningC: quantity(String.raw`\vartheta_h`, '°C', 'Hardening heat', { min: 100, max: 1300 }),
    efficiencyPercent: percent(String.raw`\eta`, 'Furnace efficiency', { min: 1, max: 100, trusted: [15, 80] }).default(
      40,
    ),
    bath: choice('Bath', QUENCH_BATHS, { oil: 'Quench oil', polymer: 'Polymer in water', water: 'Water' }),
    bathKg: quantity('m_b', 'kg', 'Mass of the bath', { min: 0.001, max: 1e7 }),
    bathC: quantity(String.raw`\vartheta_b`, '°C', 'Bath before', { min: -20, max: 300 }),
    bathLimitC: quantity(null, '°C', 'Bath may reach', {
      min: -20,
      max: 400,
      help: 'From the data sheet of the oil, well under its flash point',
    }),
    steelJPerKgK: quantity('c', 'J/(kg·K)', 'Mean specific heat of the charge', { min: 200, max: 2000 }).default(
      hotSteel850.specificHeatJPerKgK,
    ),
    bathJPerKgK: quantity('c_b', 'J/(kg·K)', 'Specific heat of the bath, where it is known', {
      min: 500,
      max: 6000,
    }).optional(),
  }),
  output: z.strictObject({
    energyKWh: quantity('E', 'kWh', 'Furnace energy'),
    kWhPerKg: quantity(null, 'kWh/kg', 'For each kilogram of parts'),
    bathRiseK: quantity(null, 'K', 'Bath warms by'),
    bathEndC: quantity(String.raw`\vartheta_e`, '°C', 'Bath afterwards, uncooled'),
    withinLimit: z.boolean().meta({ title: 'Bath stays within its limit' }),
    leastBathKg: quantity(null, 'kg', 'Least bath that would stay within it').optional(),
  }),
  examples: [
    {
      title: '300 g of steel in 3 kg of machine oil: 10 to 30 °C (school problem, its formula)',
      source: machineOilProblem,
      input: {
        partsKg: 0.3,
        hardeningC: 686,
        bath: 'oil',
        bathKg: 3,
        bathC: 10,
        bathLimitC: 80,
        steelJPerKgK: 500,
        bathJPerKgK: 1640,
      },
      output: { bathEndC: 30, bathRiseK: 20 },
      tolerance: { absolute: 1e-6 },
      reason: 'the formula of the problem put the other way round',
    },
    {
      title: 'a gallon of oil to the pound of parts: rises about 38 K (article on quench tanks)',
      source: quenchHeats,
      // 1 lb = 0.4536 kg; 1 gal of the article = 8.3 lb = 3.765 kg; hardened from 900 °C
      input: { partsKg: 0.4536, hardeningC: 900, bath: 'oil', bathKg: 3.765, bathC: 20, bathLimitC: 80 },
      output: { bathRiseK: 38 },
      tolerance: { absolute: 1 },
      reason: 'the article says about, under nominal conditions; the hardening heat is taken as 900 °C',
    },
  ],
  run(input, report) {
    const { partsKg, basketKg, startC, hardeningC, efficiencyPercent, bath, bathKg, bathC, bathLimitC, steelJPerKgK } =
      input
    const wrong = [
      ...(hardeningC <= startC
        ? [notAbove('hardeningC', 'The hardening heat must be above what the charge goes in at.', hardeningC, startC)]
        : []),
      ...(hardeningC <= bathC
        ? [notAbove('hardeningC', 'The hardening heat must be above the bath.', hardeningC, bathC)]
        : []),
      ...(bathLimitC <= bathC
        ? [notAbove('bathLimitC', 'The bath is already as warm as it may get.', bathLimitC, bathC)]
        : []),
    ]
    if (wrong.length > 0) return refuse(...wrong)
    const heatPerK = (partsKg + basketKg) * steelJPerKgK // J/K
    const energyKWh = (heatPerK * (hardeningC - startC)) / (efficiencyPercent / 100) / 3.6e6 // J → kWh
    const bathCapacity = bathKg * (input.bathJPerKgK ?? bathSpecificHeat[bath]) // J/K
    const bathEndC = (heatPerK * hardeningC + bathCapacity * bathC) / (heatPerK + bathCapacity)
    const withinLimit = bathEndC <= bathLimitC
    if (!withinLimit)
      report.notice('The bath gets warmer than it may: smaller charges, more oil, a cooler, or time between charges.')
    const leastBathKg =
      (heatPerK * (hardeningC - bathLimitC)) / ((bathLimitC - bathC) * (input.bathJPerKgK ?? bathSpecificHeat[bath]))
    return {
      energyKWh,
      kWhPerKg: energyKWh / partsKg,
      bathRiseK: bathEndC - bathC,
      bathEndC,
      withinLimit,
      ...(Number.isFinite(leastBathKg) && leastBathKg > 0 ? { leastBathKg } : {}),
    }
  },
  working({ input, output }) {
    const n = texNumber
    const { partsKg, basketKg, steelJPerKgK, hardeningC, startC, efficiencyPercent, bathKg, bathC, bath } = input
    const cb = input.bathJPerKgK ?? bathSpecificHeat[bath]
    const mass = partsKg + basketKg
    return [
      {
        finds: 'Furnace energy',
        formula: String.raw`E = \frac{m c\,(\vartheta_h - \vartheta_0)}{\eta}`,
        filled: String.raw`E = \frac{${n(mass)} \cdot ${n(steelJPerKgK)} \cdot (${n(hardeningC)} - ${n(startC)})}{${n(efficiencyPercent / 100)} \cdot 3.6 \times 10^{6}} = ${texQuantity(output.energyKWh, 'kWh')}`,
      },
      {
        finds: 'Bath afterwards',
        formula: String.raw`\vartheta_e = \frac{m c\,\vartheta_h + m_b c_b\,\vartheta_b}{m c + m_b c_b}`,
        filled: String.raw`\vartheta_e = \frac{${n(mass * steelJPerKgK)} \cdot ${n(hardeningC)} + ${n(bathKg * cb)} \cdot ${n(bathC)}}{${n(mass * steelJPerKgK)} + ${n(bathKg * cb)}} = ${texQuantity(output.bathEndC, '°C')}`,
      },
    ]
  },
})

function notAbove(path: string, message: string, value: number, limit: number) {
  return { path, code: 'contradiction' as const, message, value, allowed: `above ${limit} °C` }
}
