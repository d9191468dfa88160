import besselJ0 from '@stdlib/math-base-special-besselj0'
import besselJ1 from '@stdlib/math-base-special-besselj1'

/**
 * Heat conduction in a long cylinder that starts at one temperature and meets another at its surface through a constant heat
 * transfer coefficient. With θ the temperature still to go as a share of the whole step, Bi = hR/k, Fo = αt/R² and ρ = r/R:
 * θ = Σ A_n·e^(−λ_n²·Fo)·J0(λ_n·ρ), where λ·J1(λ) = Bi·J0(λ) and A = 2·J1/(λ·(J0² + J1²)).
 */
export interface CylinderSeries {
  readonly biot: number
  readonly roots: readonly number[]
  readonly weights: readonly number[]
}

/** Terms kept. The last root is above 250, so that at the shortest time below what is left out is under 1e-12. */
const TERMS = 80
/** The shortest time, as a Fourier number, that the series is asked for: heat has then entered about a twentieth of the radius. */
export const LEAST_FOURIER = 5e-4
/** e^−45 is below what a double can add to a share. */
const NEGLIGIBLE_EXPONENT = 45

/** Halves a bracket of a sign change until no double lies between its ends; at most 1100 halvings, far fewer in fact. */
function bisect(f: (x: number) => number, from: number, to: number): number {
  let [low, high] = [from, to]
  const rising = f(high) > 0
  for (let i = 0; i < 1100; i++) {
    const middle = low + 0.5 * (high - low)
    if (middle <= low || middle >= high) break
    if (f(middle) > 0 === rising) high = middle
    else low = middle
  }
  return low + 0.5 * (high - low)
}

let intervals: readonly (readonly [number, number])[] | undefined
/** Between the zeros of J1 (from 0 on) and those of J0 lies exactly one root for every Biot number. */
function rootIntervals() {
  intervals ??= Array.from({ length: TERMS }, (_, i) => [
    i === 0 ? 0 : bisect(besselJ1, i * Math.PI, (i + 0.5) * Math.PI),
    bisect(besselJ0, (i + 0.5) * Math.PI, (i + 1) * Math.PI),
  ])
  return intervals
}

/** The roots and weights that belong to a Biot number hR/k above zero. */
export function cylinderSeries(biot: number): CylinderSeries {
  const roots = rootIntervals().map(([from, to]) =>
    bisect((x) => x * besselJ1(x) - biot * besselJ0(x), from + Number.EPSILON * from, to),
  )
  const weights = roots.map((root) => (2 * besselJ1(root)) / (root * (besselJ0(root) ** 2 + besselJ1(root) ** 2)))
  return { biot, roots, weights }
}

/** Share of the temperature step still to go at a radius r/R, 1 at the start and 0 at the end; for Fo from `LEAST_FOURIER`. */
export function shareToGo(
  { roots, weights }: CylinderSeries,
  { fourier, radiusShare, terms = TERMS }: { fourier: number; radiusShare: number; terms?: number },
): number {
  let sum = 0
  for (const [i, root] of roots.slice(0, terms).entries()) {
    const exponent = root * root * fourier
    if (exponent > NEGLIGIBLE_EXPONENT && i > 0) break
    sum += (weights[i] ?? 0) * Math.exp(-exponent) * besselJ0(root * radiusShare)
  }
  return sum
}

/** Share of the heat that would pass in the end which has passed by then, 0 to 1. */
export function heatShare({ roots, weights }: CylinderSeries, fourier: number, terms = TERMS): number {
  let left = 0
  for (const [i, root] of roots.slice(0, terms).entries())
    left += (2 * (weights[i] ?? 0) * besselJ1(root) * Math.exp(-root * root * fourier)) / root
  return 1 - left
}

/**
 * The Fourier number at which a share of the step is still to go at a radius; `undefined` when that is reached sooner than
 * the series can be asked for. Bisection to the last digit: the share only falls with time.
 */
export function fourierForShare(
  series: CylinderSeries,
  { share, radiusShare }: { share: number; radiusShare: number },
): number | undefined {
  const over = (fourier: number) => shareToGo(series, { fourier, radiusShare }) - share
  if (over(LEAST_FOURIER) <= 0) return undefined
  let late = 2 * LEAST_FOURIER
  // A share that can be told from zero is reached within 45/λ₁² of a start that is known; doubling gets there.
  for (let i = 0; i < 200 && over(late) > 0; i++) late *= 2
  return bisect(over, 0.5 * late, late)
}
