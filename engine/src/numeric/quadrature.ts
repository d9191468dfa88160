/**
 * Adaptive integration of a smooth non-negative function over given panels: 15-point Gauss–Kronrod on each, the panel
 * with the largest estimated error halved until the sum of the estimates is small against the integral.
 */

/** Nodes of the 15-point Kronrod rule on [−1, 1], the non-negative half; every second one is a Gauss node. */
const NODES = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993943, 0.5860872354676911,
  0.4058451513773972, 0.20778495500789848, 0,
] as const
const KRONROD = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679,
  0.19035057806478542, 0.2044329400752989, 0.20948214108472782,
] as const
const GAUSS = [0.1294849661688697, 0.27970539148927664, 0.3818300505051189, 0.4179591836734694] as const

interface Panel {
  readonly from: number
  readonly to: number
  readonly value: number
  readonly error: number
}

export interface Quadrature {
  readonly value: number
  /** Sum of the panels' error estimates; far above the true error where the function is smooth. */
  readonly error: number
  readonly converged: boolean
}

/**
 * Integrates `f` over the panels between successive break points.
 *
 * @param breaks ascending; kinks and peaks of `f` belong here
 * @param relative stops when the estimated error is below this share of the integral
 * @param maxPanels gives up, with `converged: false`, when more panels would be needed
 */
export function integrate(
  f: (x: number) => number,
  breaks: readonly number[],
  { relative, maxPanels }: { relative: number; maxPanels: number },
): Quadrature {
  const panels: Panel[] = []
  for (let i = 1; i < breaks.length; i++) {
    const [from, to] = [breaks[i - 1] ?? 0, breaks[i] ?? 0]
    if (to > from) panels.push(rule(f, from, to))
  }
  for (;;) {
    let value = 0
    let error = 0
    let worst = 0
    for (const [i, panel] of panels.entries()) {
      value += panel.value
      error += panel.error
      if (panel.error > (panels[worst]?.error ?? 0)) worst = i
    }
    const split = panels[worst]
    if (error <= relative * value || split === undefined) return { value, error, converged: true }
    const middle = split.from + 0.5 * (split.to - split.from)
    // A panel that cannot be halved any more is as well known as doubles allow.
    if (panels.length >= maxPanels || !(middle > split.from && middle < split.to))
      return { value, error, converged: false }
    panels[worst] = rule(f, split.from, middle)
    panels.push(rule(f, middle, split.to))
  }
}

function rule(f: (x: number) => number, from: number, to: number): Panel {
  const half = 0.5 * (to - from)
  const centre = from + half
  let kronrod = 0
  let gauss = 0
  for (let i = 0; i < NODES.length; i++) {
    const offset = half * (NODES[i] ?? 0)
    const sum = offset === 0 ? f(centre) : f(centre - offset) + f(centre + offset)
    kronrod += (KRONROD[i] ?? 0) * sum
    if (i % 2 === 1) gauss += (GAUSS[(i - 1) / 2] ?? 0) * sum
  }
  const difference = Math.abs(kronrod - gauss)
  // The difference measures the 7-point rule; the 15-point rule is about its 1.5th power (as in QUADPACK's scaling).
  const error = kronrod > 0 ? kronrod * Math.min(1, (200 * difference) / kronrod) ** 1.5 : difference
  return { from, to, value: half * kronrod, error: half * Math.min(error, difference) }
}
