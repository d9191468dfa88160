import { type BarCutting, formatNumber } from '@haspwright/engine'

/** The bars of one heat, with the lots cut from them. */
export interface CutHeat {
  readonly heat: string
  readonly bars: number
  readonly lots: readonly string[]
}

/** Heats in the order they are cut; none where the lots need not keep to one. */
export function heatsOfCutting({ layout }: BarCutting): readonly CutHeat[] {
  const heats = new Map<string, CutHeat>()
  for (const { heat, times, lots = [] } of layout?.layouts ?? []) {
    if (heat === undefined) continue
    const before = heats.get(heat)
    heats.set(heat, {
      heat,
      bars: (before?.bars ?? 0) + times,
      lots: [...new Set([...(before?.lots ?? []), ...lots])],
    })
  }
  return [...heats.values()]
}

/** `1 of 1 598 mm, 2 of 612 mm (heat 7F-214); mark them, the next order takes them first.` Absent where the works keeps none. */
export function remnantWords({ remnants }: BarCutting): string | undefined {
  if (remnants === undefined) return undefined
  if (remnants.length === 0) return 'nothing, what is left is too short to keep.'
  const each = remnants.map(({ lengthMm, quantity, heat }) => {
    const of = heat === undefined ? '' : ` (heat ${heat})`
    return `${quantity} of ${formatNumber(lengthMm, 6)} mm${of}`
  })
  return `${each.join(', ')}, clamped end included. Mark them; the next order takes them first.`
}
