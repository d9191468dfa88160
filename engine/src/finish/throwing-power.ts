import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber } from '../display.ts'
import { refuse } from '../issue.ts'
import { percent, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const fieldFormula = source({
  id: 'formula.field-throwing-power',
  status: 'handbook',
  citation:
    'Throwing power by the formula of Field, Haring–Blum cell, as given in public encyclopaedias of corrosion and chemistry',
  place: '100 (K − M)/(K + M − 2)',
  note: 'The formula was read; the values of the examples are worked from it.',
})

const worked = (M: number, T: number, what: string) => ({
  title: `K 5, M ${M}: ${T.toFixed(1)} %, ${what} (formula of Field, by hand)`,
  source: fieldFormula,
  input: { distanceRatio: 5, nearMassG: M, farMassG: 1 },
  output: { throwingPowerPercent: T },
  tolerance: { absolute: 0.05 },
  reason: 'one decimal',
})

/** How evenly a bath plates near and far, from a cell with two cathodes at unequal distances. */
export const throwingPower = calculation({
  id: 'finish.throwing-power',
  title: 'Throwing power of a bath',
  summary:
    'Throwing power by Field from the metal on a near and a far cathode; below zero where the bath is less even than the bare distances, as chromium is.',
  equation: String.raw`T = 100\,\frac{K - M}{K + M - 2}`,
  assumes: [
    'two equal cathodes in one cell, one K times as far from the anode as the other',
    'M is metal on the near cathode over metal on the far one',
  ],
  sources: [fieldFormula],
  input: z.strictObject({
    distanceRatio: quantity('K', '', 'Far distance over near distance', { min: 1.1, max: 100, trusted: [2, 10] }),
    nearMassG: quantity('m_n', 'g', 'Metal on the near cathode', { min: 1e-6, max: 1000 }),
    farMassG: quantity('m_f', 'g', 'Metal on the far cathode', { min: 1e-6, max: 1000 }),
  }),
  output: z.strictObject({
    throwingPowerPercent: percent('T', 'Throwing power', {}),
    metalRatio: quantity('M', '', 'Metal near over far'),
  }),
  examples: [
    worked(5, 0, 'metal as the distances'),
    worked(3, 100 / 3, 'evener than the distances'),
    worked(1, 100, 'even'),
    worked(7, -20, 'less even than the distances'),
  ],
  run({ distanceRatio: K, nearMassG, farMassG }) {
    const M = nearMassG / farMassG
    if (K + M - 2 < 1e-3)
      return refuse({
        path: 'farMassG',
        code: 'contradiction',
        message:
          'More metal far than near by so much is no measurement of throwing power: check which cathode is which.',
        value: farMassG,
      })
    return { throwingPowerPercent: (100 * (K - M)) / (K + M - 2), metalRatio: M }
  },
  working: ({ input: { distanceRatio: K }, output: { metalRatio: M, throwingPowerPercent: T } }) => [
    {
      finds: 'Throwing power',
      formula: String.raw`T = 100\,\frac{K - M}{K + M - 2}`,
      filled: String.raw`T = 100 \cdot \frac{${texNumber(K)} - ${texNumber(M)}}{${texNumber(K)} + ${texNumber(M)} - 2} = ${texNumber(T)}\,\%`,
    },
  ],
})
