import type { BarCutting, WorksPlan } from './plan.ts'
import type { Works } from './resources.ts'

type Bar = Works['bars'][number]

/**
 * The bars of the works once an order is cut: whole bars and remnants taken off, new remnants put back, marked so that the next plan
 * takes them first. What was bought for the order was never in stock and only its remnants come back.
 */
export function stockAfter({ works, barCutting }: Pick<WorksPlan, 'works' | 'barCutting'>): Bar[] {
  return [
    ...barCutting
      .reduce<Bar[]>((bars, cutting) => taken(bars, cutting), [...works.bars])
      .filter(({ quantity }) => quantity > 0),
    ...remnantsAfter({ barCutting }),
  ]
}

/** What is put back on the rack after an order, longest first within each form. */
export function remnantsAfter({ barCutting }: Pick<WorksPlan, 'barCutting'>): Bar[] {
  return barCutting.flatMap(({ form, remnants = [] }) =>
    remnants.map((remnant) => ({ form, ...remnant, remnant: true })),
  )
}

/** Bars of one form less what its layouts use: of a length, remnants go before whole bars. */
function taken(bars: readonly Bar[], { form, layout }: BarCutting): Bar[] {
  const left = bars.map((bar) => ({ ...bar }))
  for (const { stockLengthMm, times, heat } of layout?.layouts ?? []) {
    let wanted = times
    const fitting = left
      .filter((bar) => bar.form === form && bar.lengthMm === stockLengthMm && (heat === undefined || bar.heat === heat))
      .sort((a, b) => Number(b.remnant ?? false) - Number(a.remnant ?? false))
    for (const bar of fitting) {
      const used = Math.min(wanted, bar.quantity)
      bar.quantity -= used
      wanted -= used
    }
  }
  return left
}
