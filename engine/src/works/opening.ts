import type { Design } from './design.ts'

/**
 * The opening model's figures from a design: the half window from gate and sidebar, the scatter of one gate from gate, cut and
 * lost motion together.
 */
export function openingSpec({ mechanism }: Design) {
  const {
    stepDeg,
    gateWidth,
    sidebarWidth,
    gateRadiusMm,
    gateSigmaDeg,
    keyCutSigmaDeg,
    lostMotionSigmaDeg,
    commonSigmaDeg,
    rockDeg,
  } = mechanism
  const half = (gateWidth.nominalMm - sidebarWidth.nominalMm) / (2 * gateRadiusMm) // rad
  return {
    stepDeg,
    halfWindowDeg: (half * 180) / Math.PI,
    sigmaDeg: Math.hypot(gateSigmaDeg, keyCutSigmaDeg, lostMotionSigmaDeg),
    commonSigmaDeg,
    rockDeg,
  }
}

/**
 * The difference of two codes that passes most easily: one disc one step off, at a place in the middle of the stack. Under a
 * separation rule with weights coprime to its modulus no single disc can differ alone; then two discs one step off, in the
 * directions that the rule leaves.
 */
export function nearestDifference({ mechanism: { discs, values, rules } }: Design): readonly number[] {
  const zero = Array.from({ length: discs }, () => 0)
  const { congruence } = rules
  if (congruence === undefined) return zero.with(0, 1)
  const weights = congruence.weights ?? zero.map(() => 1)
  const keeps = (difference: readonly number[]) =>
    mod(
      difference.reduce((sum, step, i) => sum + step * (weights[i] ?? 1), 0),
      congruence.modulus,
    ) === 0
  const steps = Array.from({ length: values - 1 }, (_, i) => i + 1)
  const singles = steps.flatMap((step) => zero.map((_, i) => zero.with(i, step)))
  const pairs = zero.flatMap((_, i) =>
    zero.slice(i + 1).flatMap((__, gap) => {
      const j = i + 1 + gap
      return [zero.with(i, 1).with(j, 1), zero.with(i, 1).with(j, -1)]
    }),
  )
  return [...singles.slice(0, discs), ...pairs, ...singles.slice(discs)].find(keeps) ?? zero.with(0, values - 1)
}

const mod = (n: number, modulus: number) => ((n % modulus) + modulus) % modulus
