import { deposit } from '../finish/deposit.ts'
import { platingLoad } from '../finish/load.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { platedAreaDm2 } from './parts.ts'
import type { Works } from './resources.ts'

export type Layer = Design['coating']['layers'][number]

export interface Racked {
  readonly design: Design
  readonly works: Works
  readonly locks: number
}

/** What the bath of a layer is asked for. */
export function bathOf({ metal, currentDensityAPerDm2, efficiencyPercent, meanUm }: Layer) {
  return { metal, currentDensityAPerDm2, efficiencyPercent, thicknessUm: meanUm }
}

/** One rack goes through every bath: the layer with the highest current density sets how many locks hang on it. */
export function rackLoad({ design, works: { plating }, locks }: Racked) {
  const slowest = slowestTank(design)
  if (!slowest.ok) return slowest
  return ask(platingLoad, {
    parts: Math.max(1, locks),
    partAreaDm2: platedAreaDm2(design),
    places: plating.rackPositions,
    currentDensityAPerDm2: Math.max(...design.coating.layers.map((layer) => layer.currentDensityAPerDm2)),
    currentLimitA: plating.rectifierA,
    minutes: slowest.output.minutes,
  })
}

/** The deposit that takes longest, or the first that its bath refuses. */
function slowestTank(design: Design) {
  const [first, ...others] = design.coating.layers.map((layer) =>
    ask(deposit, { ...bathOf(layer), areaDm2: platedAreaDm2(design) }),
  )
  if (first === undefined) return { ok: false, because: 'The design has no layer to plate.' } as const
  return others.reduce(
    (slowest, bath) => (!slowest.ok || (bath.ok && bath.output.minutes <= slowest.output.minutes) ? slowest : bath),
    first,
  )
}
