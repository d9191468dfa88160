import { measureVolume, type Shape3D } from 'replicad'
import { LOCK_STATES, type LockState, type PlacedPart, type Placement, putInPlace } from './lock.ts'

/**
 * Common volume up to which two parts are said to touch, mm³. The kernel works to 10⁻⁷ mm; where curved faces lie on each other over
 * some 100 mm² it finds slivers of that thickness.
 */
export const INTERFERENCE_TOLERANCE_MM3 = 1e-3

/** Two parts that share room, or whose boxes touch, in one state of the lock. */
export interface PartPair {
  readonly state: LockState
  readonly parts: readonly [string, string]
  readonly commonMm3: number
}

export interface InterferenceCheck {
  readonly toleranceMm3: number
  readonly pairsChecked: number
  /** Pairs that share more than the tolerance: the lock cannot be put together, or cannot move. */
  readonly interferences: readonly PartPair[]
}

interface PlacedSolid {
  readonly placed: PlacedPart
  readonly solid: Shape3D
  readonly box: Box
  readonly faces: readonly Box[]
}
interface Box {
  readonly low: readonly number[]
  readonly high: readonly number[]
}

/** Holds every two parts of the assembled lock against each other in the states asked for. */
export function checkInterference(
  lock: readonly PlacedPart[],
  solids: ReadonlyMap<string, Shape3D>,
  states: readonly LockState[] = LOCK_STATES,
): InterferenceCheck {
  const known = new Map<string, number>()
  const interferences: PartPair[] = []
  let pairsChecked = 0
  for (const state of states) {
    const placed = lock.map((part) => inPlace(part, solids, state))
    for (const [i, a] of placed.entries())
      for (const b of placed.slice(i + 1)) {
        pairsChecked++
        const commonMm3 = commonVolume(a, b, { state, known })
        if (commonMm3 > INTERFERENCE_TOLERANCE_MM3)
          interferences.push({ state, parts: [a.placed.name, b.placed.name], commonMm3 })
      }
    for (const { solid } of placed) solid.delete()
  }
  return { toleranceMm3: INTERFERENCE_TOLERANCE_MM3, pairsChecked, interferences }
}

function inPlace(placed: PlacedPart, solids: ReadonlyMap<string, Shape3D>, state: LockState): PlacedSolid {
  const made = solids.get(placed.part)
  if (made === undefined) throw new Error(`no solid of part ${placed.part}`)
  const solid = putInPlace(made.clone(), placed.placements[state])
  return { placed, solid, box: boxOf(solid), faces: solid.faces.map(boxOf) }
}

function boxOf({ boundingBox }: { readonly boundingBox: Shape3D['boundingBox'] }): Box {
  const [low, high] = boundingBox.bounds
  return { low, high }
}

/** Two parts that stand to each other as they did in an earlier state need not be cut again. */
function commonVolume(
  a: PlacedSolid,
  b: PlacedSolid,
  { state, known }: { state: LockState; known: Map<string, number> },
): number {
  if (commonBoxMm3(a.box, b.box) < INTERFERENCE_TOLERANCE_MM3 || apart(a, b)) return 0
  const key = relation(a.placed, b.placed, state)
  const before = known.get(key)
  if (before !== undefined) return before
  const common = a.solid.intersect(b.solid)
  const volume = Math.abs(measureVolume(common))
  common.delete()
  known.set(key, volume)
  return volume
}

/** Skins that do not even come near each other, and neither part large enough to hold the other. */
function apart(a: PlacedSolid, b: PlacedSolid): boolean {
  if (holds(a.box, b.box) || holds(b.box, a.box)) return false
  return !a.faces.some((face) => b.faces.some((other) => meet(face, other)))
}

const AXES = [0, 1, 2] as const

const meet = (a: Box, b: Box) =>
  AXES.every((i) => (a.low[i] ?? 0) <= (b.high[i] ?? 0) && (b.low[i] ?? 0) <= (a.high[i] ?? 0))

const holds = (outer: Box, inner: Box) =>
  AXES.every((i) => (outer.low[i] ?? 0) <= (inner.low[i] ?? 0) && (inner.high[i] ?? 0) <= (outer.high[i] ?? 0))

/** How two parts stand to each other: equal wherever both were only turned or lifted together. */
function relation(a: PlacedPart, b: PlacedPart, state: LockState): string {
  const [p, q]: [Placement, Placement] = [a.placements[state], b.placements[state]]
  const turn = q.turnDeg - p.turnDeg
  const angle = (-p.turnDeg * Math.PI) / 180
  const [qx, qy] = rotated(q.shiftMm[0], q.shiftMm[1], angle + (q.turnDeg * Math.PI) / 180)
  const apart = [qx - p.shiftMm[0], qy - p.shiftMm[1], q.shiftMm[2] - p.shiftMm[2], turn]
  return [a.part, b.part, ...apart.map((value) => Math.round(value * 1e6))].join(' ')
}

function rotated(x: number, y: number, angle: number): [number, number] {
  return [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)]
}

function commonBoxMm3(a: Box, b: Box): number {
  return AXES.reduce<number>((volume, i) => {
    const low = Math.max(a.low[i] ?? 0, b.low[i] ?? 0)
    const high = Math.min(a.high[i] ?? 0, b.high[i] ?? 0)
    return volume * Math.max(0, high - low)
  }, 1)
}
