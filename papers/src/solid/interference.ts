import { measureDistanceBetween, measureVolume, type Shape3D } from 'replicad'
import { LOCK_STATES, type LockState, type PlacedPart, type Placement, putInPlace } from './lock.ts'

/**
 * Common volume up to which two parts are said to touch, mm³. The kernel works to 10⁻⁷ mm; where curved faces lie on each other over
 * some 100 mm² it finds slivers of that thickness.
 */
export const INTERFERENCE_TOLERANCE_MM3 = 1e-3

/** Gap up to which two parts are said to touch, mm: ten times what the kernel works to. */
const TOUCHING_MM = 1e-6

/** Parts that stand farther from each other are not measured, mm: no fit and no slide of a lock is as wide. */
const NEAR_MM = 1

/** How two parts stand to each other in one state of the lock. */
export type Contact =
  | { readonly state: LockState; readonly kind: 'shares room'; readonly commonMm3: number }
  | { readonly state: LockState; readonly kind: 'touches' }
  | { readonly state: LockState; readonly kind: 'clears'; readonly gapMm: number }
  /** By more than the check measures. */
  | { readonly state: LockState; readonly kind: 'apart' }

/** Two parts that come near each other in at least one state. */
export interface PartPair {
  readonly parts: readonly [string, string]
  /** One for each state that was looked at. */
  readonly contacts: readonly Contact[]
}

export interface InterferenceCheck {
  readonly toleranceMm3: number
  readonly nearMm: number
  readonly pairsChecked: number
  /** In the order of the assembly. */
  readonly pairs: readonly PartPair[]
  /** Pairs that share more than the tolerance: the lock cannot be put together, or cannot move. */
  readonly interferences: readonly {
    readonly state: LockState
    readonly parts: readonly [string, string]
    readonly commonMm3: number
  }[]
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
  const known = new Map<string, Relation>()
  const contacts = new Map<string, { readonly parts: [string, string]; readonly contacts: Contact[] }>()
  for (const state of states) {
    const placed = lock.map((part) => inPlace(part, solids, state))
    for (const [i, a] of placed.entries())
      for (const b of placed.slice(i + 1)) {
        const parts: [string, string] = [a.placed.name, b.placed.name]
        const pair = contacts.get(parts.join()) ?? { parts, contacts: [] }
        contacts.set(parts.join(), pair)
        pair.contacts.push({ state, ...related(a, b, { state, known }) })
      }
    for (const { solid } of placed) solid.delete()
  }
  const all = [...contacts.values()]
  return {
    toleranceMm3: INTERFERENCE_TOLERANCE_MM3,
    nearMm: NEAR_MM,
    pairsChecked: all.length * states.length,
    pairs: all.filter((pair) => pair.contacts.some(({ kind }) => kind !== 'apart')),
    interferences: all.flatMap((pair) =>
      pair.contacts.flatMap((contact) =>
        contact.kind === 'shares room'
          ? [{ state: contact.state, parts: pair.parts, commonMm3: contact.commonMm3 }]
          : [],
      ),
    ),
  }
}

type WithoutState<T> = T extends unknown ? Omit<T, 'state'> : never
type Relation = WithoutState<Contact>

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

/** Two parts that stand to each other as they did in an earlier state need not be held against each other again. */
function related(
  a: PlacedSolid,
  b: PlacedSolid,
  { state, known }: { state: LockState; known: Map<string, Relation> },
): Relation {
  if (!meet(a.box, b.box, NEAR_MM)) return { kind: 'apart' }
  const key = relationKey(a.placed, b.placed, state)
  const relation = known.get(key) ?? measuredRelation(a, b)
  known.set(key, relation)
  return relation
}

/** The gap between skins is quickly measured and clears most pairs, but not a part that may lie wholly in the material of another. */
function measuredRelation(a: PlacedSolid, b: PlacedSolid): Relation {
  const gapMm = measureDistanceBetween(a.solid, b.solid)
  if (gapMm <= TOUCHING_MM || holds(a.box, b.box) || holds(b.box, a.box)) {
    const commonMm3 = commonVolume(a, b)
    if (commonMm3 > INTERFERENCE_TOLERANCE_MM3) return { kind: 'shares room', commonMm3 }
  }
  if (gapMm > NEAR_MM) return { kind: 'apart' }
  return gapMm > TOUCHING_MM ? { kind: 'clears', gapMm } : { kind: 'touches' }
}

function commonVolume(a: PlacedSolid, b: PlacedSolid): number {
  if (commonBoxMm3(a.box, b.box) < INTERFERENCE_TOLERANCE_MM3 || apart(a, b)) return 0
  const common = a.solid.intersect(b.solid)
  const volume = Math.abs(measureVolume(common))
  common.delete()
  return volume
}

/** Skins that do not even come near each other, and neither part large enough to hold the other. */
function apart(a: PlacedSolid, b: PlacedSolid): boolean {
  if (holds(a.box, b.box) || holds(b.box, a.box)) return false
  return !a.faces.some((face) => b.faces.some((other) => meet(face, other, 0)))
}

const AXES = [0, 1, 2] as const

const meet = (a: Box, b: Box, withinMm: number) =>
  AXES.every((i) => (a.low[i] ?? 0) <= (b.high[i] ?? 0) + withinMm && (b.low[i] ?? 0) <= (a.high[i] ?? 0) + withinMm)

const holds = (outer: Box, inner: Box) =>
  AXES.every((i) => (outer.low[i] ?? 0) <= (inner.low[i] ?? 0) && (inner.high[i] ?? 0) <= (outer.high[i] ?? 0))

/** How two parts stand to each other: equal wherever both were only turned or lifted together. */
function relationKey(a: PlacedPart, b: PlacedPart, state: LockState): string {
  const [p, q]: [Placement, Placement] = [a.placements[state], b.placements[state]]
  const turn = q.turnDeg - p.turnDeg
  const angle = (-p.turnDeg * Math.PI) / 180
  const [qx, qy] = rotated(q.shiftMm[0], q.shiftMm[1], angle + (q.turnDeg * Math.PI) / 180)
  const between = [qx - p.shiftMm[0], qy - p.shiftMm[1], q.shiftMm[2] - p.shiftMm[2], turn]
  return [a.part, b.part, ...between.map((value) => Math.round(value * 1e6))].join(' ')
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
