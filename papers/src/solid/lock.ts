import type { Design } from '@haspwright/engine'
import type { Shape3D } from 'replicad'
import { ballDistance } from '../drawing/parts/detent.ts'
import { barrelPlace, tangentAboveTop } from '../drawing/parts/padlock-geometry.ts'
import { shifted, turned, type Vector } from './carving.ts'
import { freeSizes } from './free-sizes.ts'
import { notchedSides } from './parts/notched-shackle.ts'

/** The way from shut to open, in the order things move. */
export const LOCK_STATES = ['locked', 'gates in line', 'sidebar dropped', 'released', 'open'] as const
export type LockState = (typeof LOCK_STATES)[number]

/** Where a part stands: moved first, then turned about the barrel axis, counter-clockwise as seen from above. */
export interface Placement {
  readonly shiftMm: Vector
  readonly turnDeg: number
}

/** A part in its place in the lock, in every state. */
export interface PlacedPart {
  /** `Disc 3`, `Ball, toe side`. */
  readonly name: string
  /** Key of its part in the part list. */
  readonly part: string
  readonly placements: States<Placement>
}

/**
 * The assembled lock, top face of the body at z = 0. The discs take all values in turn: the stack of no lock.
 * Turned by its key, the gates come under the sidebar; it drops, the barrel turns, the balls sink in, the shackle is lifted.
 */
export function assembledLock(design: Design): readonly PlacedPart[] {
  const free = freeSizes(design)
  const turn = free.barrelTurnDeg
  const barrelTurn = states(0, 0, 0, turn, turn)
  const lift = states(0, 0, 0, 0, shackleLiftMm(design))
  return [
    { name: 'Body', part: 'body-assembled', placements: inEvery(() => still([0, 0, 0])) },
    {
      name: 'Shackle',
      part: 'shackle-finished',
      placements: inEvery((state) => still([0, 0, tangentAboveTop(design) + lift[state]])),
    },
    { name: 'Barrel', part: 'barrel', placements: turning(-free.barrelTopMm, barrelTurn) },
    ...stack(design, barrelTurn),
    sidebarPlaced(design, barrelTurn),
    ...notchedSides(design).map((side) => ballPlaced(design, side)),
    ...(free.coverLengthMm > 0
      ? [{ name: 'Cover', part: 'cover', placements: inEvery(() => still([0, 0, -barrelPlace(design).bottomMm])) }]
      : []),
  ]
}

/** At a height in the barrel, turned by so much in each state. */
const turning = (z: number, turn: States<number>): States<Placement> =>
  inEvery((state) => ({ shiftMm: [0, 0, z], turnDeg: turn[state] }))

/** One value for each state, in their order. */
type States<T> = Readonly<Record<LockState, T>>

function states<T>(locked: T, inLine: T, dropped: T, released: T, open: T): States<T> {
  return { locked, 'gates in line': inLine, 'sidebar dropped': dropped, released, open }
}

function inEvery<T>(make: (state: LockState) => T): States<T> {
  return states(...(LOCK_STATES.map(make) as [T, T, T, T, T])) // five states give five values
}

const still = (shiftMm: Vector): Placement => ({ shiftMm, turnDeg: 0 })

/** Lifted until the toe leg is clear of the top face by half its bore: the shackle can be swung aside. */
export function shackleLiftMm({ body, shackle }: Design): number {
  const toeEnd = body.crossBoreFromTopMm + shackle.notch.fromToeEndMm
  return toeEnd + body.toeBore.diameter.nominalMm / 2
}

function stack(design: Design, barrelTurn: States<number>): PlacedPart[] {
  const { discs, values, stepDeg, discThicknessMm, spacerThicknessMm } = design.mechanism
  const top = barrelPlace(design).stackTopMm
  return Array.from({ length: discs }, (_, i) => {
    const value = i % values
    const z = -(top + i * (discThicknessMm + spacerThicknessMm))
    const keyTurn = (state: LockState) => (state === 'locked' ? 0 : -value * stepDeg)
    const turn = inEvery((state) => keyTurn(state) + barrelTurn[state])
    const disc = { name: `Disc ${i + 1}`, part: `disc-${value}`, placements: turning(z, turn) }
    const last = i === discs - 1 || spacerThicknessMm === 0
    if (last) return [disc]
    return [disc, { name: `Spacer ${i + 1}`, part: 'spacer', placements: turning(z - discThicknessMm, barrelTurn) }]
  }).flat()
}

/** On the rims of the discs it stands in the groove of the body; dropped into the gates its edges are flush with the barrel. */
function sidebarPlaced(design: Design, barrelTurn: States<number>): PlacedPart {
  const { sidebarDepthMm, slideMm } = freeSizes(design)
  const half = design.mechanism.sidebarWidth.nominalMm / 2
  const z = -(barrelPlace(design).stackTopMm + slideMm)
  const out = design.mechanism.discDiameterMm / 2
  const dropped = Math.sqrt((design.barrel.diameter.nominalMm / 2) ** 2 - half ** 2) - sidebarDepthMm
  const distance = states(out, out, dropped, dropped, dropped)
  return {
    name: 'Sidebar',
    part: 'sidebar',
    placements: inEvery((state) => ({ shiftMm: [0, distance[state], z], turnDeg: barrelTurn[state] })),
  }
}

function ballPlaced(design: Design, side: -1 | 1): PlacedPart {
  const at = (state: 'locked' | 'released') =>
    still([side * ballDistance(design, state), 0, -design.body.crossBoreFromTopMm])
  const [held, free] = [at('locked'), at('released')]
  return {
    name: `Ball, ${side === 1 ? 'toe' : 'heel'} side`,
    part: 'ball',
    placements: states(held, held, held, free, free),
  }
}

/** A solid put in its place; frees the one that went in. */
export function putInPlace(solid: Shape3D, { shiftMm, turnDeg }: Placement): Shape3D {
  return turned(shifted(solid, shiftMm), turnDeg)
}
