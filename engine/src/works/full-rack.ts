import { deposit } from '../finish/deposit.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { currentAreaDm2, platedAreaDm2, platedFaces } from './parts.ts'
import { bathOf, rackLoad } from './rack-load.ts'
import type { Works } from './resources.ts'

/** What hangs on one full rack of a works, and what current it takes: the figures of the plan's plating steps, by part. */
export interface FullRack {
  readonly locks: number
  /** What keeps the rack from taking more. */
  readonly limitedBy: 'places' | 'current'
  readonly faces: readonly { readonly title: string; readonly lockDm2: number; readonly rackDm2: number }[]
  readonly lockDm2: number
  readonly rackDm2: number
  readonly layers: readonly { readonly metal: string; readonly currentA: number; readonly minutes: number }[]
}

/** A rack of a works filled with locks of a design, body and shackle of each; or why there is none. */
export function fullRack(
  design: Design,
  works: Works,
): { readonly ok: true; readonly rack: FullRack } | { readonly ok: false; readonly because: string } {
  const load = rackLoad({ design, works, locks: works.plating.rackPositions })
  if (!load.ok) return { ok: false, because: load.because }
  const locks = load.output.partsPerLoad
  const lockDm2 = platedAreaDm2(design)
  const layers = design.coating.layers.flatMap((layer) => {
    const plated = ask(deposit, { ...bathOf(layer), areaDm2: lockDm2 * locks })
    return plated.ok ? [{ metal: layer.metal, currentA: plated.output.currentA, minutes: plated.output.minutes }] : []
  })
  return {
    ok: true,
    rack: {
      locks,
      limitedBy: locks < works.plating.rackPositions ? 'current' : 'places',
      faces: platedFaces(design).map((face) => {
        const areaDm2 = currentAreaDm2(face)
        return { title: face.title, lockDm2: areaDm2, rackDm2: areaDm2 * locks }
      }),
      lockDm2,
      rackDm2: lockDm2 * locks,
      layers,
    },
  }
}
