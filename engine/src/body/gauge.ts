import { z } from 'zod'
import { calculation } from '../calculation.ts'
import { texNumber, texQuantity } from '../display.ts'
import { type Issue, refuse } from '../issue.ts'
import { choice, quantity } from '../quantity.ts'
import { source } from '../source.ts'

const coatedFaces = source({
  id: 'practice.size-before-plating',
  status: 'common practice (no source)',
  citation: 'A coating of thickness t adds t to every covered face: a bore closes by 2t, a shaft grows by 2t',
  note: 'Least coating meets the largest bore, most coating the smallest, so the spread of the coating comes off the tolerance twice over.',
})

const goNoGo = source({
  id: 'practice.go-no-go',
  status: 'common practice (no source)',
  citation: 'The go gauge has the size with most material and must go, the no-go gauge that with least and must not',
  note: 'Tolerance and wear of the gauge itself are left to the gauge maker.',
})

export type FeatureKind = 'hole' | 'shaft'

/** Two limits of a size, mm. */
export interface SizeLimits {
  readonly minMm: number
  readonly maxMm: number
}

export interface BeforePlating {
  readonly kind: FeatureKind
  /** Limits of the finished, plated size. */
  readonly finishedMm: SizeLimits
  /** Least and most coating on each covered face, µm. */
  readonly coatingUm: { readonly minUm: number; readonly maxUm: number }
}

/** What is left of the tolerance before plating, mm: the tolerance less twice the spread of the coating. */
export function toleranceLeftMm({ finishedMm, coatingUm }: BeforePlating): number {
  const left = finishedMm.maxMm - finishedMm.minMm - (2 * (coatingUm.maxUm - coatingUm.minUm)) / 1000 // µm → mm
  // Sizes are written to a thousandth; what is left below a millionth is only the dust of binary fractions.
  return Math.abs(left) < 1e-6 ? 0 : left
}

/**
 * Limits to machine to, so that the plated size keeps its limits with the least and with the most coating.
 *
 * @returns mm; `undefined` when the spread of the coating eats the whole tolerance
 */
export function sizeBeforePlating(part: BeforePlating): SizeLimits | undefined {
  const { kind, finishedMm, coatingUm } = part
  const spreads = coatingUm.maxUm > coatingUm.minUm
  if (toleranceLeftMm(part) < 0 || (spreads && toleranceLeftMm(part) === 0)) return undefined
  const least = (2 * coatingUm.minUm) / 1000 // µm on each face → mm on the diameter
  const most = (2 * coatingUm.maxUm) / 1000
  return kind === 'hole'
    ? { minMm: finishedMm.minMm + most, maxMm: finishedMm.maxMm + least }
    : { minMm: finishedMm.minMm - least, maxMm: finishedMm.maxMm - most }
}

/** Sizes of go and no-go gauges, and the size to machine to before plating. */
export const gauge = calculation({
  id: 'body.gauge',
  title: 'Go and no-go gauges, size before plating',
  summary: 'Limits to machine a bore or a shaft to so that it is right once plated, and the gauges for both stages.',
  equation: String.raw`D_{min} = D'_{min} + 2t_{max}, \quad D_{max} = D'_{max} + 2t_{min}`,
  assumes: [
    'the coating lies on the whole of the wall; deep bores plate less inside than at the mouth',
    'tolerance and wear of the gauge itself are not in the sizes',
  ],
  sources: [coatedFaces, goNoGo],
  input: z.strictObject({
    kind: choice('Feature; a bore when left out', ['hole', 'shaft'], {
      hole: 'Bore',
      shaft: 'Shaft or leg',
    }).optional(),
    minMm: quantity("D'_{min}", 'mm', 'Finished size, least', { min: 0.1, max: 1000 }),
    maxMm: quantity("D'_{max}", 'mm', 'Finished size, most', { min: 0.1, max: 1000 }),
    coatingMinUm: quantity('t_{min}', 'µm', 'Least coating on each face', { min: 0, max: 1000 }),
    coatingMaxUm: quantity('t_{max}', 'µm', 'Most coating on each face', { min: 0, max: 1000 }),
  }),
  output: z.strictObject({
    machinedMinMm: quantity('D_{min}', 'mm', 'Before plating, least'),
    machinedMaxMm: quantity('D_{max}', 'mm', 'Before plating, most'),
    toleranceLeftMm: quantity(null, 'mm', 'Tolerance left before plating'),
    goBeforePlatingMm: quantity(null, 'mm', 'Go gauge before plating'),
    noGoBeforePlatingMm: quantity(null, 'mm', 'No-go gauge before plating'),
    goMm: quantity(null, 'mm', 'Go gauge, finished'),
    noGoMm: quantity(null, 'mm', 'No-go gauge, finished'),
  }),
  examples: [
    {
      title: 'bore 8.00 to 8.10, coated 10 to 20 µm: drill 8.04 to 8.12 (by hand)',
      source: coatedFaces,
      input: { kind: 'hole', minMm: 8, maxMm: 8.1, coatingMinUm: 10, coatingMaxUm: 20 },
      output: {
        machinedMinMm: 8.04,
        machinedMaxMm: 8.12,
        toleranceLeftMm: 0.08,
        goBeforePlatingMm: 8.04,
        noGoBeforePlatingMm: 8.12,
        goMm: 8,
        noGoMm: 8.1,
      },
      tolerance: { absolute: 1e-9 },
      reason: 'whole hundredths',
    },
    {
      title: 'leg 7.90 to 8.00, coated 10 to 20 µm: machine 7.88 to 7.96 (by hand)',
      source: coatedFaces,
      input: { kind: 'shaft', minMm: 7.9, maxMm: 8, coatingMinUm: 10, coatingMaxUm: 20 },
      output: { machinedMinMm: 7.88, machinedMaxMm: 7.96, goBeforePlatingMm: 7.96, goMm: 8, noGoMm: 7.9 },
      tolerance: { absolute: 1e-9 },
      reason: 'whole hundredths',
    },
  ],
  run({ kind = 'hole', minMm, maxMm, coatingMinUm, coatingMaxUm }) {
    const crossed = [
      ...(minMm > maxMm ? [wrongOrder('minMm', 'finished size', minMm, `${maxMm} mm`)] : []),
      ...(coatingMinUm > coatingMaxUm
        ? [wrongOrder('coatingMinUm', 'coating', coatingMinUm, `${coatingMaxUm} µm`)]
        : []),
    ]
    if (crossed.length > 0) return refuse(...crossed)
    const part = { kind, finishedMm: { minMm, maxMm }, coatingUm: { minUm: coatingMinUm, maxUm: coatingMaxUm } }
    const before = sizeBeforePlating(part)
    const left = toleranceLeftMm(part)
    if (before === undefined)
      return refuse({
        path: 'coatingMaxUm',
        code: 'out-of-reach',
        message: `Twice the spread of the coating takes ${millimetres(2 * (coatingMaxUm - coatingMinUm))} mm of a tolerance of ${millimetres((maxMm - minMm) * 1000)} mm: ${millimetres(-left * 1000)} mm too much, nothing is left to machine. Widen the tolerance or plate more evenly.`,
        value: coatingMaxUm,
        allowed: `below ${Number((coatingMinUm + (maxMm - minMm) * 500).toFixed(3))} µm`,
      })
    if (before.minMm <= 0)
      return refuse({
        path: 'coatingMinUm',
        code: 'out-of-reach',
        message: 'The coating is thicker than the shaft: nothing is left under it.',
        value: coatingMinUm,
        allowed: `below ${minMm * 500} µm`,
      })
    const [mostMaterial, leastMaterial] =
      kind === 'hole' ? (['minMm', 'maxMm'] as const) : (['maxMm', 'minMm'] as const)
    return {
      machinedMinMm: before.minMm,
      machinedMaxMm: before.maxMm,
      toleranceLeftMm: left,
      goBeforePlatingMm: before[mostMaterial],
      noGoBeforePlatingMm: before[leastMaterial],
      goMm: part.finishedMm[mostMaterial],
      noGoMm: part.finishedMm[leastMaterial],
    }
  },
  working({ input: { kind = 'hole', minMm, maxMm, coatingMinUm, coatingMaxUm }, output }) {
    const sign = kind === 'hole' ? '+' : '-'
    const [atMin, atMax] = kind === 'hole' ? [coatingMaxUm, coatingMinUm] : [coatingMinUm, coatingMaxUm]
    const [nameMin, nameMax] = kind === 'hole' ? ['max', 'min'] : ['min', 'max']
    const n = (value: number) => texNumber(value, 6)
    return [
      {
        finds: 'Least size before plating',
        formula: `D_{min} = D'_{min} ${sign} 2t_{${nameMin}}`,
        filled: String.raw`D_{min} = ${n(minMm)} ${sign} 2 \cdot ${n(atMin / 1000)} = ${texQuantity(output.machinedMinMm, 'mm', 6)}`,
      },
      {
        finds: 'Most size before plating',
        formula: `D_{max} = D'_{max} ${sign} 2t_{${nameMax}}`,
        filled: String.raw`D_{max} = ${n(maxMm)} ${sign} 2 \cdot ${n(atMax / 1000)} = ${texQuantity(output.machinedMaxMm, 'mm', 6)}`,
      },
    ]
  },
})

/** Micrometres as millimetres in a message, without the dust of binary fractions. */
const millimetres = (um: number) => Number((um / 1000).toFixed(4))

function wrongOrder(path: string, what: string, value: number, most: string): Issue {
  return {
    path,
    code: 'contradiction',
    message: `Least ${what} is above the most. Exchange the two.`.replace(/^./, (c) => c.toUpperCase()),
    value,
    allowed: `at most ${most}`,
  }
}
