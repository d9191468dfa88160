import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { refuse } from '../issue.ts'
import { openingModel } from '../numeric/separation-sources.ts'
import { count, list, quantity } from '../quantity.ts'
import { logRockedOpening, logSteadyOpening, probability } from './opening.ts'
import { normalTable, openingFields, rangeTable, tooFine } from './opening-fields.ts'

/**
 * How likely a key opens a lock whose values it misses by given steps: with the turn where the stop makes it, and with the
 * key rocked.
 *
 * Steady: P = ∫ φ(δ/σ_c)/σ_c · Π [Φ((a − s_iΔ − δ)/σ) − Φ((−a − s_iΔ − δ)/σ)] dδ.
 * Rocked: P = Σ_i ∫ from −(a+w) to a+w of f_i(m) · Π_{j≠i} [F_j(min(m + 2a, a + w)) − F_j(m)]⁺ dm, m the lowest gate.
 */
export const interchange = calculation({
  id: 'mechanism.interchange',
  title: 'Probability that a key opens a lock',
  summary:
    'From gate window, scatter and rocking play, how likely a key opens that misses the lock’s values by the given steps; all zero is the right key.',
  equation: String.raw`P_\text{steady} = \int \frac{1}{\sigma_c}\varphi\!\left(\frac{\delta}{\sigma_c}\right) \prod_i \left[\Phi\!\left(\frac{a - s_i\Delta - \delta}{\sigma}\right) - \Phi\!\left(\frac{-a - s_i\Delta - \delta}{\sigma}\right)\right] d\delta`,
  assumes: [
    'errors of the gates are normal, independent and of one size',
    'angles lie on a line: a disc does not come round by a whole turn',
    'rocked: whoever tries finds the best place within the play',
  ],
  sources: [openingModel, normalTable, rangeTable],
  input: z.strictObject({
    ...openingFields,
    differences: list(
      'Lock value less key value, disc by disc',
      count('Steps off', { min: -100, max: 100, symbol: 's_i' }),
      {
        max: 24,
      },
    ),
  }),
  output: z.strictObject({
    steady: quantity(String.raw`P_\text{steady}`, '', 'Opens where the stop ends the turn', { min: 0, max: 1 }),
    rocked: quantity(String.raw`P_\text{rocked}`, '', 'Opens when rocked', { min: 0, max: 1 }),
    log10Steady: quantity(null, '', 'Power of ten of the steady probability').optional(),
    log10Rocked: quantity(null, '', 'Power of ten of the rocked probability').optional(),
  }),
  examples: [
    {
      title:
        'two discs rocked without limit: range of 2 normals under 2.772 σ in 95 of 100 (studentized range, ν = ∞, k = 2)',
      source: rangeTable,
      input: { stepDeg: 18, halfWindowDeg: 1.386, sigmaDeg: 1, commonSigmaDeg: 1, rockDeg: 60, differences: [0, 0] },
      output: { rocked: 0.95 },
      tolerance: { absolute: 1e-4 },
      reason: 'the table point is printed to three decimals',
    },
    {
      title:
        'seven discs rocked without limit: range of 7 normals under 4.170 σ in 95 of 100 (studentized range, ν = ∞, k = 7)',
      source: rangeTable,
      input: {
        stepDeg: 18,
        halfWindowDeg: 2.085,
        sigmaDeg: 1,
        commonSigmaDeg: 1,
        rockDeg: 60,
        differences: [0, 0, 0, 0, 0, 0, 0],
      },
      output: { rocked: 0.95 },
      tolerance: { absolute: 1e-4 },
      reason: 'the table point is printed to three decimals',
    },
    {
      title: 'one disc, gate and turn scatter adding to σ = 1: within 1.96 σ in 95 of 100 (normal table, 2 × 0.4750)',
      source: normalTable,
      input: { stepDeg: 18, halfWindowDeg: 1.96, sigmaDeg: 0.6, commonSigmaDeg: 0.8, rockDeg: 0, differences: [0] },
      output: { steady: 0.95 },
      tolerance: { absolute: 1e-4 },
      reason: 'the table is printed to four decimals',
    },
  ],
  run(input) {
    const refused = tooFine(input)
    if (refused !== undefined) return refused
    const steady = logSteadyOpening(input, input.differences)
    const rocked = logRockedOpening(input, input.differences)
    if (!steady.converged || !rocked.converged)
      return refuse({
        path: '',
        code: 'not-converged',
        message: 'The opening integral did not settle for these figures. Scatter and window are too far apart in size.',
      })
    const [pSteady, pRocked] = [probability(steady.log), probability(rocked.log)]
    return {
      steady: pSteady,
      rocked: pRocked,
      ...(pSteady === 0 ? {} : { log10Steady: steady.log / Math.LN10 }),
      ...(pRocked === 0 ? {} : { log10Rocked: rocked.log / Math.LN10 }),
    }
  },
  working:
    'Both integrals by adaptive Gauss–Kronrod quadrature on the logarithm of the integrand, over the stretch around its peak where it is above 1e-13 of the peak; normal probabilities are taken on the side where they are small.',
})
