import {
  type Chain,
  type ChainResult,
  chain as chainCalculation,
  type Evidence,
  type Finding,
  formatQuantity,
  lockYield,
  type OperationPlan,
  REFERENCE_TEMPERATURE_C,
  read,
  sigmaOf,
  simulateChain,
  simulateLock,
  toleranceChain,
} from '@haspwright/engine'

/** A chain at one temperature, with the margin that it answers. */
export interface ChainCase {
  readonly finding: Finding
  readonly chain: Chain
  readonly temperatureC: number
}

/** One chain of a design at every temperature it is judged at, coldest first. */
export interface ChainGroup {
  /** `HB50/close/release` */
  readonly key: string
  readonly title: string
  readonly cases: readonly ChainCase[]
  /** Its tightest margin. */
  readonly tightest: Finding
}

/** What one dimension does to the result, mm, counted from where the result would be with it at its nominal. */
export interface Contribution {
  readonly name: string
  readonly nominalMm: number
  readonly sensitivity: number
  readonly lowMm: number
  readonly highMm: number
  /** Middle of the running process. */
  readonly centreMm: number
  readonly sigmaMm: number
  /** Share of the variance of the result. */
  readonly share: number
}

/** What a chain comes to: by the formula, and by drawing it. */
export interface ChainOutcome extends ChainResult {
  readonly simulated: ReturnType<typeof simulateChain>
}

/** Draws that take a few milliseconds, so that a changed tolerance shows at once; the same ones each time. */
const DRAWS = 20_000
const SEED = 1

/** The chain behind a margin; `undefined` where the margin follows from something else. */
export function chainCase(finding: Finding): ChainCase | undefined {
  if (finding.evidence?.calculation !== chainCalculation.id) return undefined
  const reading = read(chainCalculation.input, finding.evidence.input)
  if (!reading.ok) return undefined
  return { finding, chain: reading.value, temperatureC: reading.value.temperatureC ?? REFERENCE_TEMPERATURE_C }
}

/** All chains behind some margins, the one with the tightest margin first. The margins come tightest first. */
export function chainGroups(findings: readonly Finding[]): readonly ChainGroup[] {
  const groups = new Map<string, ChainCase[]>()
  for (const each of findings.flatMap((finding) => chainCase(finding) ?? [])) {
    const key = each.finding.id.replace(/-(cold|room|hot)$/, '')
    groups.set(key, [...(groups.get(key) ?? []), each])
  }
  return [...groups].flatMap(([key, cases]) => {
    const [tightest] = cases
    if (tightest === undefined) return []
    const { finding, temperatureC } = tightest
    return [
      {
        key,
        title: finding.title.replace(` at ${formatQuantity(temperatureC, '°C')}`, ''),
        cases: cases.toSorted((a, b) => a.temperatureC - b.temperatureC),
        tightest: finding,
      },
    ]
  })
}

/** What each dimension contributes, the largest share of the spread first. */
export function contributionsOf({ contributors }: Chain): readonly Contribution[] {
  const parts = contributors.map(({ name, nominalMm, plusMm, minusMm, sensitivity: a, sigmaMm, shiftMm = 0, cp }) => ({
    name,
    nominalMm,
    sensitivity: a,
    lowMm: a >= 0 ? -a * minusMm : a * plusMm,
    highMm: a >= 0 ? a * plusMm : -a * minusMm,
    centreMm: a * ((plusMm - minusMm) / 2 + shiftMm),
    sigmaMm: Math.abs(a) * sigmaOf({ sigmaMm, plusMm, minusMm, ...(cp === undefined ? {} : { cp }) }),
  }))
  const variance = parts.reduce((sum, { sigmaMm }) => sum + sigmaMm ** 2, 0)
  return parts
    .map((part) => ({ ...part, share: variance === 0 ? 0 : part.sigmaMm ** 2 / variance }))
    .sort((a, b) => b.share - a.share)
}

export function outcomeOf(chain: Chain): ChainOutcome {
  return { ...toleranceChain(chain), simulated: simulateChain(chain, { draws: DRAWS, seed: SEED }) }
}

/** Share of locks in which every chain holds at one temperature, drawn; each lock from the same parts at all of them. */
export interface LockAt {
  readonly temperatureC: number
  readonly percent: number
  /** Two standard errors of the drawing. */
  readonly errorPercent: number
}

/** The evidence that the plan gives for the yield of the whole lock. */
export function lockEvidence(operations: readonly OperationPlan[]): Evidence | undefined {
  return operations.flatMap(({ settings }) => settings).find(({ evidence }) => evidence?.calculation === lockYield.id)
    ?.evidence
}

/** The whole lock at each of its temperatures, coldest first. */
export function lockAtEach({ input }: Evidence): readonly LockAt[] {
  const reading = read(lockYield.input, input)
  if (!reading.ok) return []
  const { dimensions, chains } = reading.value
  const of = ({ temperatureC = REFERENCE_TEMPERATURE_C }: (typeof chains)[number]) => temperatureC
  return [...new Set(chains.map(of))]
    .sort((a, b) => a - b)
    .map((temperatureC) => {
      const own = chains.filter((each) => of(each) === temperatureC)
      const drawn = simulateLock(dimensions, own, { draws: DRAWS, seed: SEED })
      return { temperatureC, percent: 100 * drawn.yield, errorPercent: 200 * drawn.standardError }
    })
}
