import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { formatNumber } from '../display.ts'
import { refuse } from '../issue.ts'
import { choice, list, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { capabilityIssues, chainFields } from './chain-fields.ts'
import { stackMethods } from './stack-methods.ts'
import { type Chain, type ChainContributor, toleranceChain } from './tolerance-chain.ts'

const reciprocalCost = source({
  id: 'practice.reciprocal-tolerance-cost',
  status: 'common practice (no source)',
  citation: 'Cost of a tolerance rises as its reciprocal: holding half of it costs one more of what it cost',
})

/** Tolerances are not tightened below this share: another process would be needed. */
const TIGHTEST = 0.1

/** A nominal that moves the result by less than this share of itself is no means to move it. */
const LEAST_SENSITIVE = 1e-3

export interface ChainRemedy {
  readonly change: 'tighten' | 'move-nominal'
  readonly name: string
  readonly nominalMm: number
  readonly plusMm: number
  readonly minusMm: number
  /** Reciprocal cost: 0 for a moved nominal, 1 for half the tolerance; the weight of the contributor multiplies it. */
  readonly cost: number
  readonly text: string
}

/** What is asked of a chain: all of its worst case inside the limits, or a share of its scatter. */
export type ChainTarget = { readonly by: 'worst-case' } | { readonly by: 'yield'; readonly share: number }

/** Whether a chain does what is asked of it. */
export function chainHolds(chain: Chain, target: ChainTarget): boolean {
  const { worstCase, yield: inside } = toleranceChain(chain)
  if (target.by === 'yield') return inside >= target.share
  const { minMm = Number.NEGATIVE_INFINITY, maxMm = Number.POSITIVE_INFINITY } = chain.limits
  // A tenth of a nanometre of rounding is not a shortfall.
  return worstCase.minMm >= minMm - 1e-10 && worstCase.maxMm <= maxMm + 1e-10
}

/**
 * Single changes that make a chain hold, cheapest first: one nominal moved, or one tolerance tightened with its process.
 */
export function chainRemedies(chain: Chain, target: ChainTarget, weights: readonly number[] = []): ChainRemedy[] {
  if (chainHolds(chain, target)) return []
  return chain.contributors
    .flatMap((_, i) => [...moveNominal(chain, i, target), ...tighten(chain, i, target, weights[i] ?? 1)])
    .sort((a, b) => a.cost - b.cost || a.name.localeCompare(b.name))
}

const withLink = (chain: Chain, at: number, link: ChainContributor): Chain => ({
  ...chain,
  contributors: chain.contributors.map((other, i) => (i === at ? link : other)),
})

/** The nominal that puts the result in the middle of its limits, or just inside a single limit by what is missing. */
function moveNominal(chain: Chain, at: number, target: ChainTarget): ChainRemedy[] {
  const link = chain.contributors[at]
  if (link === undefined || Math.abs(factorOf(chain, link)) < LEAST_SENSITIVE) return []
  const { worstCase, meanMm, sigmaMm } = toleranceChain(chain)
  const { minMm, maxMm } = chain.limits
  // Under a yield a single limit is met when the mean is so far inside that the share is reached: found by halving below.
  const [low, high] = target.by === 'worst-case' ? [worstCase.minMm, worstCase.maxMm] : [meanMm, meanMm]
  let move: number | undefined
  if (minMm !== undefined && maxMm !== undefined) move = (minMm + maxMm - low - high) / 2
  else if (target.by === 'worst-case') move = minMm === undefined ? (maxMm ?? high) - high : minMm - low
  else {
    const inward = minMm === undefined ? -1 : 1
    move = smallestHolding(
      (by) => chainHolds(moved(chain, at, inward * by), target),
      100 * sigmaMm + Math.abs(meanMm - (minMm ?? maxMm ?? meanMm)),
    )
    if (move !== undefined) move *= inward
  }
  if (move === undefined || !chainHolds(moved(chain, at, move), target)) return []
  const nominalMm = link.nominalMm + move / factorOf(chain, link)
  return [
    {
      change: 'move-nominal',
      name: link.name,
      nominalMm,
      plusMm: link.plusMm,
      minusMm: link.minusMm,
      cost: 0,
      text: `Move ${link.name} from ${formatNumber(link.nominalMm, 6)} to ${formatNumber(nominalMm, 6)} mm`,
    },
  ]
}

/** Millimetres of result per millimetre of nominal, at the temperature of the chain. */
const factorOf = ({ temperatureC = 20 }: Chain, { sensitivity, expansionPerK = 0 }: ChainContributor) =>
  sensitivity * (1 + expansionPerK * (temperatureC - 20))

function moved(chain: Chain, at: number, resultMm: number): Chain {
  const link = chain.contributors[at]
  if (link === undefined) return chain
  return withLink(chain, at, { ...link, nominalMm: link.nominalMm + resultMm / factorOf(chain, link) })
}

function tightened(link: ChainContributor, share: number): ChainContributor {
  return {
    ...link,
    plusMm: link.plusMm * share,
    minusMm: link.minusMm * share,
    sigmaMm: link.sigmaMm === undefined ? undefined : link.sigmaMm * share,
  }
}

/** The loosest tolerance of one contributor that makes the chain hold; its process is taken to follow it. */
function tighten(chain: Chain, at: number, target: ChainTarget, weight: number): ChainRemedy[] {
  const link = chain.contributors[at]
  if (link === undefined || link.plusMm + link.minusMm === 0) return []
  const taken = smallestHolding(
    (off) => chainHolds(withLink(chain, at, tightened(link, 1 - off)), target),
    1 - TIGHTEST,
  )
  if (taken === undefined) return []
  const { plusMm, minusMm } = tightened(link, 1 - taken)
  return [
    {
      change: 'tighten',
      name: link.name,
      nominalMm: link.nominalMm,
      plusMm,
      minusMm,
      cost: weight * (1 / (1 - taken) - 1),
      text: `Hold ${link.name} to +${formatNumber(plusMm, 4)}/−${formatNumber(minusMm, 4)} mm, ${formatNumber(100 * (1 - taken), 3)} % of its tolerance`,
    },
  ]
}

/** Halvings of the search: 60 leave nothing that a number could hold. */
const HALVINGS = 60

/**
 * The smallest amount up to `most` at which something holds that holds at `most`, by halving; the end returned is always
 * one that was tried and holds. `undefined` when it does not hold at `most`.
 */
function smallestHolding(holds: (amount: number) => boolean, most: number): number | undefined {
  if (!holds(most)) return undefined
  let [fails, works] = [0, most]
  for (let i = 0; i < HALVINGS && works - fails > 1e-12 * most; i++) {
    const middle = (fails + works) / 2
    if (holds(middle)) works = middle
    else fails = middle
  }
  return works
}

/**
 * What to change so that a tolerance chain holds.
 */
export const chainRemedy = calculation({
  id: 'body.chain-remedy',
  title: 'What makes a tolerance chain hold',
  summary:
    'Single changes that bring a chain inside its limits, cheapest first: a nominal moved, or one tolerance tightened to what is needed and no further.',
  assumes: [
    'one change at a time; the process follows its tolerance',
    'cost of a tolerance as its reciprocal, weighted where a weight is given; moving a nominal costs nothing here',
    'no tolerance is tightened below a tenth: another process would be needed',
  ],
  sources: [stackMethods, reciprocalCost],
  input: z.strictObject({
    ...chainFields,
    target: choice('Asked for', ['worst-case', 'yield'], {
      'worst-case': 'Worst case inside the limits',
      yield: 'Share inside the limits',
    }),
    targetYield: quantity(null, '', 'Share asked for', {
      min: 0.5,
      max: 0.999_999_999,
      help: 'For a yield: left out, 0.9973',
    }).optional(),
    costWeights: list('Cost weights', quantity(null, '', 'Cost weight of a contributor', { min: 0.001, max: 1000 }), {
      max: 100,
    })
      .meta({ title: 'Cost weights, in the order of the contributors', description: 'Left out: all alike' })
      .optional(),
  }),
  output: z.strictObject({
    holds: z.boolean().meta({ title: 'Holds as it is' }),
    remedies: list(
      'Remedies',
      z.strictObject({
        change: choice('Change', ['tighten', 'move-nominal'], {
          tighten: 'Tighten a tolerance',
          'move-nominal': 'Move a nominal',
        }),
        name: text('Contributor', { max: 100 }),
        nominalMm: quantity('N', 'mm', 'Nominal then'),
        plusMm: quantity(null, 'mm', 'Deviation upward then', { min: 0 }),
        minusMm: quantity(null, 'mm', 'Deviation downward then', { min: 0 }),
        cost: quantity(null, '', 'Relative cost', { min: 0 }),
        text: text('In words', { max: 400 }),
      }),
      { min: 0, max: 200 },
    ),
  }),
  examples: [
    {
      title: 'gap of 0.05 ± 0.06: one of two ± 0.03 to ± 0.02 brings it to 0 (hand check)',
      source: stackMethods,
      input: {
        contributors: [
          { name: 'housing', nominalMm: 10.05, plusMm: 0.03, minusMm: 0.03, sensitivity: 1 },
          { name: 'insert', nominalMm: 10, plusMm: 0.03, minusMm: 0.03, sensitivity: -1 },
        ],
        limits: { minMm: 0, maxMm: 0.1 },
        target: 'worst-case',
      },
      output: {
        holds: false,
        remedies: [
          { change: 'tighten', name: 'housing', plusMm: 0.02, minusMm: 0.02, cost: 0.5 },
          { change: 'tighten', name: 'insert', plusMm: 0.02, minusMm: 0.02, cost: 0.5 },
        ],
      },
      tolerance: { absolute: 1e-6 },
      reason: 'decimal fractions',
    },
  ],
  working:
    'Each nominal is moved to the middle of the limits, or by what is missing at a single limit; each tolerance is halved between what is too much and what is enough until the difference is rounding. What then holds is listed by its relative cost.',
  run({ target, targetYield = 0.9973, costWeights, ...chain }) {
    const wrong = capabilityIssues(chain.contributors, 'contributors')
    if (wrong.length > 0) return refuse(...wrong)
    const { minMm, maxMm } = chain.limits
    if (minMm === undefined && maxMm === undefined)
      return refuse({
        path: 'limits',
        code: 'missing',
        message: 'Without a limit there is nothing to hold.',
        allowed: 'minMm, maxMm or both',
      })
    if (minMm !== undefined && maxMm !== undefined && minMm > maxMm)
      return refuse({
        path: 'limits.minMm',
        code: 'contradiction',
        message: 'The smallest allowed value is above the largest allowed one.',
        value: minMm,
        allowed: `at most ${maxMm} mm`,
      })
    const asked: ChainTarget = target === 'yield' ? { by: 'yield', share: targetYield } : { by: 'worst-case' }
    return { holds: chainHolds(chain, asked), remedies: chainRemedies(chain, asked, costWeights) }
  },
})
