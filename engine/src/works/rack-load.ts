import { deposit } from '../finish/deposit.ts'
import { platingLoad } from '../finish/load.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { platedAreaDm2 } from './parts.ts'
import type { Works } from './resources.ts'

export type Layer = Design['coating']['layers'][number]

interface Racked {
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
  const { layers } = design.coating
  return ask(platingLoad, {
    parts: Math.max(1, locks),
    partAreaDm2: platedAreaDm2(design),
    places: plating.rackPositions,
    currentDensityAPerDm2: Math.max(...layers.map((layer) => layer.currentDensityAPerDm2)),
    currentLimitA: plating.rectifierA,
    minutes: slowestTankMinutes(design),
  })
}

/** Racks that a number of locks fills, and the time the slowest tank takes for each. */
export function platingQueue(racked: Racked): { racks: number; slowestTankMinutes: number } {
  const load = rackLoad(racked)
  return { racks: load.ok ? load.output.loads : 1, slowestTankMinutes: slowestTankMinutes(racked.design) }
}

function slowestTankMinutes(design: Design): number {
  const minutes = design.coating.layers.map((layer) => {
    const bath = ask(deposit, { ...bathOf(layer), areaDm2: platedAreaDm2(design) })
    return bath.ok ? bath.output.minutes : 0
  })
  return Math.max(0.01, ...minutes)
}
