import { type ChainOfCommon, type CommonDimension, simulateLock } from '../body/common-dimensions.ts'
import { lockYield } from '../body/lock-yield.ts'
import { formatNumber } from '../display.ts'
import type { Evidence } from '../finding.ts'
import type { ChainCase, Contributor } from './chains/chain-terms.ts'
import { barrelClearanceChain, fitChains, legClearanceChain } from './chains/clearance-chains.ts'
import { climatesOf, climateWords } from './chains/climate.ts'
import { boreOfLeg, engagementChain, jamChain, releaseChain } from './chains/detent-chains.ts'
import type { Design } from './design.ts'
import { Memory } from './remember.ts'
import { toeEntryOf } from './toe-entry.ts'

export type LockYield =
  | {
      readonly ok: true
      /** With two standard errors of the simulation either way. */
      readonly percent: { readonly value: number; readonly low: number; readonly high: number }
      /** The chain that fails most often. */
      readonly worst: string
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

/** Draws for a plan, so that a changed tolerance shows at once; body.lock-yield draws a million of the same locks. */
const DRAWS = 20_000
/** Always the same, so that two designs differ by their sizes and not by chance. */
const SEED = 1

const known = new Memory<LockYield>(50)

/** Share of the locks of a design in which every chain holds, at every temperature, all from the same parts. */
export function lockYieldOf(design: Design): LockYield {
  const chains = lockChains(design)
  if (!chains.ok) return chains
  const { dimensions, chains: all } = chains
  const key = JSON.stringify([dimensions, all])
  return known.get(key) ?? known.keep(key, drawn(dimensions, all))
}

function drawn(dimensions: readonly CommonDimension[], chains: readonly ChainOfCommon[]): LockYield {
  const result = simulateLock(dimensions, chains, { draws: DRAWS, seed: SEED })
  const [worst] = [...result.chains].sort((a, b) => a.yield - b.yield)
  const value = 100 * result.yield
  const error = 200 * result.standardError
  const worstWords =
    worst === undefined
      ? ''
      : `${worst.name.toLowerCase()}, missed in ${formatNumber(100 * (1 - worst.yield), 2)} % of the locks`
  return {
    ok: true,
    percent: { value, low: Math.max(0, value - error), high: Math.min(100, value + error) },
    worst: worstWords,
    evidence: {
      calculation: lockYield.id,
      input: { dimensions, chains, draws: DRAWS, seed: SEED },
      working: `${DRAWS} locks are drawn, each dimension once for all the chains it stands in; ${formatNumber(value, 4)} % of them hold every chain. Worst: ${worstWords}.`,
      sources: lockYield.sources,
      notices: [],
    },
  }
}

type LockChains =
  | { readonly ok: true; readonly dimensions: readonly CommonDimension[]; readonly chains: readonly ChainOfCommon[] }
  | { readonly ok: false; readonly because: string }

/** Every chain of a lock with its dimensions told apart by leg: each leg has its ball, its notch, its recess and its axis. */
function lockChains(design: Design): LockChains {
  const { requirements: asked, shackle, ball } = design
  const legs = shackle.notch.legs === 'both' ? (['toe', 'heel'] as const) : (['toe'] as const)
  const cases: { name: string; chain: ChainCase; minMm: number; leg?: 'toe' | 'heel' }[] = [
    ...legs.flatMap((leg) => [
      {
        name: `Locked engagement, ${leg}`,
        chain: engagementChain(design, boreOfLeg(design, leg)),
        minMm: asked.engagementShareOfBall.limit * ball.diameter.nominalMm,
        leg,
      },
      { name: `Jam clearance, ${leg}`, chain: jamChain(design), minMm: asked.jamClearanceMm.limit, leg },
      { name: `Release clearance, ${leg}`, chain: releaseChain(design), minMm: asked.releaseClearanceMm.limit, leg },
    ]),
    ...(['toe', 'heel'] as const).map((leg) => ({
      name: `Leg in its bore, ${leg}`,
      chain: legClearanceChain(design, boreOfLeg(design, leg)),
      minMm: asked.legClearanceMm.limit,
    })),
    { name: 'Barrel in its bore', chain: barrelClearanceChain(design), minMm: asked.barrelClearanceMm.limit },
    ...fitChains(design).map(({ fit, chain }) => ({ name: fit.name, chain, minMm: fit.clearanceMm.limit })),
  ]
  const dimensions = new Map<string, CommonDimension>()
  const keep = ({ sensitivity, ...dimension }: Contributor) => {
    dimensions.set(dimension.name, dimension)
    return { dimension: dimension.name, sensitivity }
  }
  const chains = cases.flatMap(({ name, chain, minMm, leg }) => {
    const terms = chain.contributors.map((part) => keep(leg === undefined ? part : ofLeg(part, leg)))
    return climatesOf(design).map(
      (climate): ChainOfCommon => ({
        name: `${name} ${climateWords(climate)}`,
        terms,
        limits: { minMm },
        temperatureC: climate.temperatureC,
      }),
    )
  })
  const unknown = [...dimensions.values()].find(({ expansionPerK }) => expansionPerK === undefined)
  if (unknown !== undefined)
    return { ok: false, because: `The expansion of the material behind "${unknown.name}" is not known.` }
  const toe = toeChains(design, keep)
  if (!toe.ok) return toe
  return { ok: true, dimensions: [...dimensions.values()], chains: [...chains, ...toe.chains] }
}

/** Sizes of which each leg has its own; barrel, bar and coating are one for both. */
const BY_LEG = new Set(['Ball diameter', 'Barrel axis to leg axis', 'Notch depth', 'Barrel recess depth'])

function ofLeg(part: Contributor, leg: 'toe' | 'heel'): Contributor {
  return BY_LEG.has(part.name) ? { ...part, name: `${part.name}, ${leg}` } : part
}

/**
 * The toe enters when spacing of the legs and distance of the bores differ by no more than the float, to either side. The thickness of
 * the bar stands in the float and, by the springback, in the spacing.
 */
function toeChains(
  design: Design,
  keep: (part: Contributor) => ChainOfCommon['terms'][number],
): { ok: true; chains: ChainOfCommon[] } | { ok: false; because: string } {
  const entry = toeEntryOf(design)
  if (!entry.ok) return entry
  const { spacingPerDiameter, spacingPerYieldMmPerMPa } = entry.output
  const { barDiameter, insideWidth, bending } = design.shackle
  const named = (parts: readonly Contributor[], name: string) => parts.filter((part) => part.name === name)
  const leg = (which: 'toe' | 'heel') => legClearanceChain(design, boreOfLeg(design, which)).contributors
  const [bar, coating] = [named(leg('toe'), 'Shackle bar diameter')[0], named(leg('toe'), 'Coating on the shackle')[0]]
  const [axis] = named(jamChain(design).contributors, 'Barrel axis to leg axis')
  const [toe, heel] = [leg('toe')[0], leg('heel')[0]]
  if (bar === undefined || coating === undefined || axis === undefined || toe === undefined || heel === undefined)
    return {
      ok: false,
      because: 'The chains of the design name their parts in another way than the toe entry expects.',
    }
  const spacing: Contributor = {
    name: 'Leg spacing as bent',
    nominalMm: insideWidth.nominalMm + (1 - spacingPerDiameter) * barDiameter.nominalMm,
    plusMm: 0,
    minusMm: 0,
    sigmaMm: Math.hypot(spacingPerYieldMmPerMPa * bending.yieldSigmaMPa, bending.widthSigmaMm),
    sensitivity: 1,
    expansionPerK: 0,
  }
  const side = (sign: 1 | -1): ChainOfCommon => ({
    name: sign === 1 ? 'Toe entry, legs too wide' : 'Toe entry, legs too narrow',
    terms: [
      keep({ ...toe, sensitivity: 0.5 }),
      keep({ ...heel, sensitivity: 0.5 }),
      keep({ ...bar, sensitivity: -1 - sign * spacingPerDiameter }),
      keep({ ...coating, sensitivity: -2 }),
      keep({ ...spacing, sensitivity: -sign }),
      keep({ ...ofLeg(axis, 'toe'), sensitivity: sign }),
      keep({ ...ofLeg(axis, 'heel'), sensitivity: sign }),
    ],
    limits: { minMm: 0 },
  })
  return { ok: true, chains: [side(1), side(-1)] }
}
