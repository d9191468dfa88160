import { concavePeak, whereFallen } from './concave-peak.ts'
import { endDensities, logNormalDensity, logNormalInterval } from './normal-interval.ts'
import { integrate } from './quadrature.ts'

/**
 * The probability that a set of gates lets the sidebar in: the two integrals of the opening model, in logarithms.
 *
 * Gate i stands at x_i = μ_i + ε_i, ε_i ~ N(0, σ) independent, and passes when |x_i + δ| ≤ a, the shift δ being common to
 * all gates. In the *steady* case δ ~ N(0, σ_c); in the *rocked* case somebody may choose any δ in [−w, w].
 *
 * Why the integrals are safe: the normal probability of an interval is log-concave in its place (Prékopa), so the steady
 * integrand and every term of the rocked one rise to one peak and fall from it. The peak is found on the logarithm, and
 * where the logarithm has fallen by {@link DROP} on both sides the rest is left out: no mass can hide between nodes, at
 * 1e-250 as little as at 0.5.
 */
export interface GateModel {
  /** a: half the window in which a gate lets the sidebar pass, degrees, above 0. */
  readonly halfWindowDeg: number
  /** σ of one gate's place, degrees; 0 means that every gate stands exactly where it should. */
  readonly sigmaDeg: number
  /** σ_c of the shift common to all gates, degrees, in the steady case. */
  readonly commonSigmaDeg: number
  /** w: how far the barrel can be rocked to either side, degrees, in the rocked case. */
  readonly rockDeg: number
}

/** ln P, and whether the quadrature reached its aim. */
export interface LogProbability {
  /** −Infinity where the gates cannot pass, or below e⁻¹⁰⁰⁰. */
  readonly log: number
  readonly converged: boolean
}

/** The integrand may fall by e⁻³⁰ = 1e-13 from its peak before it is cut off. */
const DROP = 30
/** Aim of the quadrature, by its own cautious estimate; the true error is then near 1e-12. The contract asks for 1e-6. */
const RELATIVE = 1e-7
const MAX_PANELS = 400
/** Integrands whose peak lies below this are not integrated: doubles end at e⁻⁷⁴⁵. */
const LEAST_LOG = -1000

/** Gates with the same mean place, counted: the integrals do not care for the order of the discs. */
interface Group {
  readonly mean: number
  readonly count: number
}

const exactly = (log: number): LogProbability => ({ log: Math.min(0, log), converged: true })
const NEVER = exactly(Number.NEGATIVE_INFINITY)
const ALWAYS = exactly(0)

/** ln of the steady probability: the shift is what the stop makes it, δ ~ N(0, σ_c). `meansDeg` holds the gates' μ_i. */
export function logSteady(model: GateModel, meansDeg: readonly number[]): LogProbability {
  const { halfWindowDeg: a, sigmaDeg: sigma, commonSigmaDeg: common } = model
  const groups = grouped(meansDeg)
  const { lowest, highest } = ends(groups)
  if (sigma === 0) {
    // Every gate stands still: those shifts pass that suit both the lowest and the highest.
    if (common > 0) return exactly(logNormalInterval((-a - lowest) / common, (a - highest) / common))
    return lowest >= -a && highest <= a ? ALWAYS : NEVER
  }
  const logPass = (shift: number) => {
    let sum = 0
    for (const { mean, count } of groups)
      sum += count * logNormalInterval((-a - mean - shift) / sigma, (a - mean - shift) / sigma)
    return sum
  }
  if (common === 0) return exactly(logPass(0))
  const slope = (shift: number) => {
    let sum = -shift / common ** 2
    for (const { mean, count } of groups) {
      const { low, high } = endDensities((-a - mean - shift) / sigma, (a - mean - shift) / sigma)
      sum += (count * (low - high)) / sigma
    }
    return sum
  }
  const logIntegrand = (shift: number) => logPass(shift) + logNormalDensity(shift / common) - Math.log(common)
  return logIntegral(logIntegrand, {
    peaks: [concavePeak(slope, Math.min(0, -highest), Math.max(0, -lowest))],
    kinks: [-a - lowest, a - highest],
    scale: Math.min(common, sigma),
    from: Number.NEGATIVE_INFINITY,
    to: Number.POSITIVE_INFINITY,
  })
}

/** ln of the rocked probability: whoever tries may choose the shift within ±w, one for all gates. */
export function logRocked(model: GateModel, meansDeg: readonly number[]): LogProbability {
  const { halfWindowDeg: a, sigmaDeg: sigma, rockDeg: w } = model
  const groups = grouped(meansDeg)
  const { lowest, highest } = ends(groups)
  const reach = a + w
  if (sigma === 0) return highest - lowest <= 2 * a && lowest >= -reach && highest <= reach ? ALWAYS : NEVER
  // Without rocking every gate must stand in the window at δ = 0; one gate alone only has to come within reach.
  if (w === 0 || meansDeg.length === 1)
    return exactly(
      groups.reduce(
        (sum, { mean, count }) => sum + count * logNormalInterval((-reach - mean) / sigma, (reach - mean) / sigma),
        0,
      ),
    )
  const lowestGate = lowestGateTerms({ groups, a, sigma, reach })
  const peaks = groups.map((group) =>
    concavePeak(
      (m) => lowestGate.slope(group, m),
      within(Math.min(group.mean, lowest - a, w - a), reach),
      within(Math.max(group.mean, highest - a), reach),
    ),
  )
  return logIntegral(lowestGate.logIntegrand, { peaks, kinks: [w - a], scale: sigma, from: -reach, to: reach })
}

/**
 * A bound that ln of the rocked probability never exceeds, from the outermost gates alone: nothing is integrated. The two must
 * come within 2a of each other, x_high − x_low ~ N(distance, σ√2), and each within a + w of the middle.
 */
export function logRockedBound(model: GateModel, meansDeg: readonly number[]): number {
  const { halfWindowDeg: a, sigmaDeg: sigma, rockDeg: w } = model
  if (sigma === 0) return 0
  const lowest = Math.min(...meansDeg)
  const highest = Math.max(...meansDeg)
  const below = (z: number) => logNormalInterval(Number.NEGATIVE_INFINITY, z)
  return Math.min(
    meansDeg.length > 1 ? below((2 * a - (highest - lowest)) / (sigma * Math.SQRT2)) : 0,
    below((a + w - highest) / sigma),
    below((a + w + lowest) / sigma),
  )
}

/**
 * The rocked integrand: m is the place of the lowest gate, and the others lie between m and m + 2a, none above a + w.
 * Σ over which group the lowest belongs to: n_g f_g(m) · Π over all other gates of [F(min(m + 2a, a + w)) − F(m)].
 */
function lowestGateTerms({
  groups,
  a,
  sigma,
  reach,
}: {
  groups: readonly Group[]
  a: number
  sigma: number
  reach: number
}) {
  const highEnd = (m: number, { mean }: Group) => (Math.min(m + 2 * a, reach) - mean) / sigma
  const logs = new Float64Array(groups.length)
  const terms = new Float64Array(groups.length)
  const shares = groups.map(({ count }) => Math.log(count / sigma))
  const logIntegrand = (m: number) => {
    let all = 0
    // Plain loops: this is the innermost of all.
    for (let g = 0; g < groups.length; g++) {
      const group = groups[g] as Group // g is below the length
      const log = logNormalInterval((m - group.mean) / sigma, highEnd(m, group))
      logs[g] = log
      all += group.count * log
    }
    if (all === Number.NEGATIVE_INFINITY) return all
    for (let g = 0; g < groups.length; g++)
      terms[g] = (shares[g] ?? 0) + logNormalDensity((m - (groups[g]?.mean ?? 0)) / sigma) + all - (logs[g] ?? 0)
    return logSum(terms)
  }
  const slope = (own: Group, m: number) => {
    let sum = -(m - own.mean) / sigma ** 2
    for (const group of groups) {
      const others = group === own ? group.count - 1 : group.count
      if (others === 0) continue
      const { low, high } = endDensities((m - group.mean) / sigma, highEnd(m, group))
      // Above w − a the upper end stands still.
      sum += (others * ((m + 2 * a < reach ? high : 0) - low)) / sigma
    }
    return sum
  }
  return { logIntegrand, slope }
}

/** ln ∫ exp(f) over the stretch around the peaks where it matters. */
function logIntegral(
  f: (x: number) => number,
  {
    peaks,
    kinks,
    scale,
    from,
    to,
  }: { peaks: readonly number[]; kinks: readonly number[]; scale: number; from: number; to: number },
): LogProbability {
  const levels = peaks.map(f)
  const level = Math.max(...levels)
  if (!(level > LEAST_LOG)) return NEVER
  const kept = peaks.filter((_, i) => (levels[i] ?? 0) > level - DROP).sort((p, q) => p - q)
  const first = kept[0] ?? 0
  const last = kept.at(-1) ?? 0
  const low = whereFallen(f, { start: first, level, drop: DROP, step: -scale, end: from })
  const high = whereFallen(f, { start: last, level, drop: DROP, step: scale, end: to })
  // Peaks nearer to each other than half the scale need no panel between them.
  const apart = kept.filter((peak, i) => i === 0 || peak - (kept[i - 1] ?? peak) > 0.5 * scale)
  const inside = [...apart, ...kinks].filter((x) => x > low && x < high)
  const breaks = [low, ...inside.sort((p, q) => p - q), high]
  const { value, converged } = integrate((x) => Math.exp(f(x) - level), breaks, {
    relative: RELATIVE,
    maxPanels: MAX_PANELS,
  })
  return { log: Math.min(0, level + Math.log(value)), converged }
}

function grouped(means: readonly number[]): Group[] {
  const counts = new Map<number, number>()
  for (const mean of means) counts.set(mean + 0, (counts.get(mean + 0) ?? 0) + 1) // −0 and 0 are one place
  return [...counts].map(([mean, count]) => ({ mean, count })).sort((p, q) => p.mean - q.mean)
}

function ends(groups: readonly Group[]): { lowest: number; highest: number } {
  return { lowest: groups[0]?.mean ?? 0, highest: groups.at(-1)?.mean ?? 0 }
}

const within = (x: number, reach: number) => Math.min(reach, Math.max(-reach, x))

function logSum(logs: Float64Array): number {
  let largest = Number.NEGATIVE_INFINITY
  for (const log of logs) if (log > largest) largest = log
  if (largest === Number.NEGATIVE_INFINITY) return largest
  let sum = 0
  for (const log of logs) sum += Math.exp(log - largest)
  return largest + Math.log(sum)
}
