import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { Refusal, refuse } from '../issue.ts'
import { type CodeShape, codeRules, codeShapeFields } from '../numeric/code-rules.ts'
import { openCodeSpace } from '../numeric/code-space.ts'
import { stoppedEarly } from '../numeric/make-way.ts'
import { openingModel } from '../numeric/separation-sources.ts'
import {
  combineSigmas,
  estimateSigma,
  type SigmaEstimate,
  sigmaIntervalTable,
  sumOfVariancesInterval,
} from '../numeric/sigma-interval.ts'
import { choice, count, list, quantity, wholeNumberText } from '../quantity.ts'
import { ownKeyOf, type Target } from './least-change.ts'
import { openingFields, tooFine } from './opening-fields.ts'
import { type Stop, separatedCodes } from './separation.ts'
import { closedWindow, halfWindowToleranceField, otherKeySpec, type TolerancedSpec } from './window-tolerance.ts'
import { keptChances, worstInterchange } from './worst-interchange.ts'

/** A scatter below this is none; one above is no mechanism. */
const SIGMA_RANGE = { least: 1e-6, most: 60 }

const VERDICTS = {
  supported: 'The process supports the issued codes, at the upper end of its scatter too',
  'in doubt': 'The issued codes hold at one end of the interval and not at the other: measure more, or hold closer',
  'not supported': 'The process does not support the issued codes, even at the lower end of its scatter',
} as const

const deviations = (title: string) =>
  list(title, quantity(null, '°', 'Deviation from the drawing', { min: -30, max: 30 }), { min: 2, max: 10_000 })

const estimateField = (title: string) =>
  z
    .strictObject({
      count: count('Measured'),
      meanDeg: quantity(null, '°', 'Mean deviation'),
      sigmaDeg: quantity(null, '°', 'Scatter', { min: 0 }),
      lowDeg: quantity(null, '°', 'Lower end', { min: 0 }),
      highDeg: quantity(null, '°', 'Upper end', { min: 0 }),
    })
    .meta({ title })

const levelField = (title: string) =>
  z
    .strictObject({
      sigmaDeg: quantity(null, '°', 'Scatter of one gate', { min: 0 }),
      ownKey: quantity(null, '', 'Own key opens when rocked', { min: 0, max: 1 }),
      worstInterchange: quantity(null, '', 'Other key in use opens, at most', { min: 0, max: 1 }),
      supported: z.boolean().meta({ title: 'The issued codes hold' }),
      separated: wholeNumberText('Codes that may be in use together').optional(),
      needed: choice('Further separation', ['none', 'congruence', 'none found']),
      congruence: codeRules.shape.congruence,
    })
    .meta({ title })

/**
 * What the running process gives: σ of gate angles and key cuts from measured deviations, with its interval, and from it the
 * codes that may be in use together, at the estimate and at both ends of the interval.
 *
 * The issued codes are those under the rules given. They hold where the own key opens and no two of them open each other, both
 * as often as the targets say.
 */
export const asBuilt = longCalculation({
  id: 'mechanism.as-built',
  title: 'Different locks of the mechanism as it is built',
  summary:
    'The scatter of measured gate and cut angles with its confidence interval, and whether the process still supports the codes that are issued.',
  equation: String.raw`s\sqrt{\nu/\chi^2_{1-\alpha/2,\nu}} \le \sigma \le s\sqrt{\nu/\chi^2_{\alpha/2,\nu}}`,
  assumes: [
    'deviations are independent and normal; gate, cut and lost motion add as variances',
    'the own key meets the narrowest window that the tolerance allows, another key the widest',
    'the mean deviation is set right and not carried into the opening model',
    'the gauge is so good that its own scatter does not count',
  ],
  sources: [openingModel, sigmaIntervalTable, sumOfVariancesInterval],
  input: z.strictObject({
    ...codeShapeFields,
    stepDeg: openingFields.stepDeg,
    halfWindowDeg: openingFields.halfWindowDeg,
    halfWindowToleranceDeg: halfWindowToleranceField,
    commonSigmaDeg: openingFields.commonSigmaDeg,
    rockDeg: openingFields.rockDeg,
    gateDeviationsDeg: deviations('Measured gate angles, off the drawing'),
    cutDeviationsDeg: deviations('Measured key cuts, off the drawing'),
    lostMotionDeg: deviations('Measured lost motion').optional(),
    confidence: quantity(null, '', 'Confidence of the interval', { min: 0.5, max: 0.999 }).default(0.95),
    target: z
      .strictObject({
        ownKey: quantity(null, '', 'Least probability that the own key opens', { min: 0, max: 1 }),
        interchange: quantity(null, '', 'Largest probability that another key opens', { min: 1e-250, max: 1 }),
      })
      .meta({ title: 'Targets' }),
  }),
  output: z.strictObject({
    gate: estimateField('Scatter of gate angles'),
    cut: estimateField('Scatter of key cuts'),
    lostMotion: estimateField('Scatter by lost motion').optional(),
    sigmaDeg: quantity(String.raw`\sigma`, '°', 'Scatter of one gate', { min: 0 }),
    lowDeg: quantity(null, '°', 'Lower end', { min: 0 }),
    highDeg: quantity(null, '°', 'Upper end', { min: 0 }),
    low: levelField('At the lower end'),
    estimate: levelField('At the estimate'),
    high: levelField('At the upper end'),
    verdict: choice('Issued codes', ['supported', 'in doubt', 'not supported'], VERDICTS),
  }),
  examples: [
    {
      title: '10 gate angles with s = 1: σ lies between 0.6878 and 1.8256 at 95 % (table by observations, row 10)',
      source: sigmaIntervalTable,
      input: {
        discs: 5,
        values: 6,
        stepDeg: 12,
        halfWindowDeg: 4,
        commonSigmaDeg: 0.3,
        rockDeg: 1,
        // Half at +√0.9, half at −√0.9: s is 1.
        gateDeviationsDeg: Array.from({ length: 10 }, (_, i) => (i % 2 === 0 ? 1 : -1) * Math.sqrt(0.9)),
        cutDeviationsDeg: [0, 0],
        target: { ownKey: 0.99, interchange: 1e-6 },
      },
      output: { gate: { count: 10, sigmaDeg: 1, lowDeg: 0.6878, highDeg: 1.8256 }, lowDeg: 0.6878, highDeg: 1.8256 },
      tolerance: { absolute: 5.1e-5 },
      reason: 'four printed decimals',
    },
  ],
  async run(
    { discs, values, rules, gateDeviationsDeg, cutDeviationsDeg, lostMotionDeg, confidence, target, ...figures },
    { progress, notice, signal },
  ) {
    const fine = tooFine({ ...figures, sigmaDeg: 0 })
    if (fine !== undefined) return fine
    const closed = closedWindow(figures)
    if (closed !== undefined) return refuse(closed)
    const shape = { discs, values, rules }
    const space = openCodeSpace(shape)
    if (space instanceof Refusal) return space
    const parts = [
      ['Gate angles', estimateSigma(gateDeviationsDeg, confidence)],
      ['Key cuts', estimateSigma(cutDeviationsDeg, confidence)],
      ...(lostMotionDeg === undefined ? [] : [['Lost motion', estimateSigma(lostMotionDeg, confidence)] as const]),
    ] as const
    for (const [title, estimate] of parts) for (const text of remarks(title, estimate)) notice(text)
    const { sigma, low, high } = combineSigmas(
      parts.map(([, estimate]) => estimate),
      confidence,
    )
    if (high > SIGMA_RANGE.most)
      notice(`Too little was measured to say where the scatter ends: ${SIGMA_RANGE.most} ° is taken for its upper end.`)
    const levels: Level[] = []
    for (const [i, sigmaDeg] of [low, sigma, high].entries()) {
      progress(i / 3, 'counting codes that keep apart')
      const level = await levelAt({ ...figures, sigmaDeg: within(sigmaDeg) }, shape, { target, stop: signal })
      if (signal.aborted) return refuse(stoppedEarly)
      if (level.separated === undefined)
        notice(
          `At σ = ${level.sigmaDeg.toPrecision(3)} ° the codes that keep apart cannot be counted under these rules.`,
        )
      levels.push(level)
    }
    const [atLow, atEstimate, atHigh] = levels
    if (atLow === undefined || atEstimate === undefined || atHigh === undefined) return refuse(stoppedEarly)
    const holding = levels.filter(({ supported }) => supported).length
    const [gate, cut, lost] = parts.map(([, estimate]) => inDegrees(estimate))
    if (gate === undefined || cut === undefined) return refuse(stoppedEarly)
    return {
      gate,
      cut,
      ...(lost === undefined ? {} : { lostMotion: lost }),
      sigmaDeg: sigma,
      lowDeg: low,
      highDeg: high,
      low: atLow,
      estimate: atEstimate,
      high: atHigh,
      verdict: holding === 3 ? 'supported' : holding === 0 ? 'not supported' : 'in doubt',
    } as const
  },
  working:
    'σ by chi-square intervals for gate and cut, put together by the modified large-sample method; at each of three scatters the worst difference between two issued codes by best-first search, and the codes left by dynamic program.',
})

interface Level {
  readonly sigmaDeg: number
  readonly ownKey: number
  readonly worstInterchange: number
  readonly supported: boolean
  readonly separated?: string
  readonly needed: 'none' | 'congruence' | 'none found'
}

/** What the mechanism gives at one scatter. */
async function levelAt(
  spec: TolerancedSpec,
  shape: CodeShape,
  { target, stop }: { target: Target; stop: Stop },
): Promise<Level> {
  const others = otherKeySpec(spec)
  const chance = keptChances(others)
  const {
    needed,
    congruence,
    count: separated,
  } = await separatedCodes(others, shape, { target: target.interchange, stop, chance })
  const ownKey = ownKeyOf(spec, shape)
  const worst = worstInterchange(others, shape, { mostTried: 1000, chance })
  return {
    sigmaDeg: spec.sigmaDeg,
    ownKey,
    worstInterchange: worst?.rocked ?? 0,
    supported: needed === 'none' && ownKey >= target.ownKey,
    ...(separated === undefined ? {} : { separated: `${separated}` }),
    needed,
    ...(congruence === undefined ? {} : { congruence }),
  }
}

const within = (sigma: number) => (sigma < SIGMA_RANGE.least ? 0 : Math.min(sigma, SIGMA_RANGE.most))

const inDegrees = ({ count: measured, mean, sigma, low, high }: SigmaEstimate) => ({
  count: measured,
  meanDeg: mean,
  sigmaDeg: sigma,
  lowDeg: low,
  highDeg: high,
})

/** What the sample says besides its scatter. */
function remarks(title: string, { count: measured, mean, sigma }: SigmaEstimate): string[] {
  if (sigma < SIGMA_RANGE.least) return [`${title} show no scatter at all: the gauge may be too coarse to see it.`]
  if (Math.abs(mean) <= (3 * sigma) / Math.sqrt(measured)) return []
  return [
    `${title} are ${mean.toPrecision(2)} ° off on the average, more than chance explains. Set this right: it eats into the window of every gate and is not in these figures.`,
  ]
}
