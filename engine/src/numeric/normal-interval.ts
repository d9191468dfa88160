import erfcx from '@stdlib/math-base-special-erfcx'

const HALF_LOG_TWO_PI = 0.9189385332046727 // ln(2π)/2
const SQRT_HALF_PI = 1.2533141373155003 // √(π/2)
const SQRT_HALF = Math.SQRT1_2

/** ln φ(x), the logarithm of the standard normal density. */
export function logNormalDensity(x: number): number {
  return -0.5 * x * x - HALF_LOG_TWO_PI
}

/**
 * ln(Φ(high) − Φ(low)): the logarithm of the standard normal probability of an interval, to about 1e-13 of the
 * probability however far out the interval lies and however narrow it is.
 *
 * The interval is mirrored to the side where both tails are small. Out there the scaled complementary error function
 * carries the digits; an interval that holds the middle is one less its two tails; a narrow interval is its width times
 * the density at its middle, with the next three terms of the series in the width.
 *
 * @returns −Infinity for an empty interval
 */
export function logNormalInterval(low: number, high: number): number {
  if (!(high > low)) return Number.NEGATIVE_INFINITY
  const mirrored = low + high < 0
  const a = mirrored ? -high : low
  const b = mirrored ? -low : high
  const width = b - a
  const middle = a + 0.5 * width
  if (width * Math.max(1, middle) < 0.02) return narrow(middle, width)
  if (a > 0) {
    const beyond = Math.exp(-width * middle) * erfcx(b * SQRT_HALF) // relative to exp(−a²/2)
    return -0.5 * a * a + Math.log(0.5 * (erfcx(a * SQRT_HALF) - beyond))
  }
  return Math.log1p(-upperTail(b) - upperTail(-a))
}

/** 1 − Φ(x) for x ≥ 0. The scaled function is the faster and, against exp(−x²/2), as exact a way to erfc. */
function upperTail(x: number): number {
  return 0.5 * Math.exp(-0.5 * x * x) * erfcx(x * SQRT_HALF)
}

/** ∫ φ over a narrow interval: the midpoint series ∑ φ⁽²ᵏ⁾(m) w^(2k+1) / (2^(2k) (2k+1)!), with Hermite polynomials. */
function narrow(middle: number, width: number): number {
  const m2 = middle * middle
  const w2 = width * width
  const second = (w2 * (m2 - 1)) / 24
  const fourth = (w2 * w2 * (m2 * m2 - 6 * m2 + 3)) / 1920
  const sixth = (w2 * w2 * w2 * (m2 * m2 * m2 - 15 * m2 * m2 + 45 * m2 - 15)) / 322560
  return Math.log(width) + logNormalDensity(middle) + Math.log1p(second + fourth + sixth)
}

/** What stands at the two ends of an interval, against what it holds: φ(low)/P and φ(high)/P with P = Φ(high) − Φ(low). */
export interface EndDensities {
  readonly low: number
  readonly high: number
}

/**
 * The density at both ends of an interval over the interval's probability: how fast ln P changes when an end moves.
 * Stays meaningful far out, where P itself has long underflowed.
 */
export function endDensities(low: number, high: number): EndDensities {
  if (!(high > low)) return { low: Number.POSITIVE_INFINITY, high: Number.POSITIVE_INFINITY }
  const mirrored = low + high < 0
  const [a, b] = mirrored ? [-high, -low] : [low, high]
  const [near, far] = orderedEndDensities(a, b)
  return mirrored ? { low: far, high: near } : { low: near, high: far }
}

function orderedEndDensities(a: number, b: number): readonly [number, number] {
  const width = b - a
  const middle = a + 0.5 * width
  if (width * Math.max(1, middle) < 0.02) {
    const inside = Math.exp(narrow(middle, width) - logNormalDensity(middle))
    return [Math.exp(0.25 * width * (a + middle)) / inside, Math.exp(-0.25 * width * (b + middle)) / inside]
  }
  const ratio = Math.exp(-width * middle) // φ(b)/φ(a)
  if (a > 0) {
    const inside = SQRT_HALF_PI * (erfcx(a * SQRT_HALF) - ratio * erfcx(b * SQRT_HALF)) // P/φ(a)
    return [1 / inside, ratio / inside]
  }
  const log = logNormalInterval(a, b)
  return [Math.exp(logNormalDensity(a) - log), Math.exp(logNormalDensity(b) - log)]
}
