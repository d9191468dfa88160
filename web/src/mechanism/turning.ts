/** A lock and a key made up for the drawing: taken from no list, and of no customer. */
export interface MadeUpPair {
  readonly lock: readonly number[]
  readonly key: readonly number[]
}

/** Values of made-up locks, disc by disc, where the mechanism has so many. */
const PATTERN = [2, 4, 1, 3, 0, 5, 3, 1, 4, 2, 5, 0] as const

/**
 * A made-up lock and a key that misses it by the given steps, disc by disc. The lock's values follow a fixed pattern; where a step
 * would lead the key out of its values, the lock's value gives way.
 *
 * @param differences lock value less key value, from 1 − values to values − 1
 */
export function madeUpPair(differences: readonly number[], values: number): MadeUpPair {
  const lock = differences.map((steps, disc) => {
    const wanted = (PATTERN[disc % PATTERN.length] ?? 0) % values
    return Math.min(Math.max(wanted, steps), values - 1 + Math.min(0, steps))
  })
  return { lock, key: lock.map((value, disc) => value - (differences[disc] ?? 0)) }
}

/** How far the key turns until its stop, degrees: a step for every value. */
export const fullTurnDeg = ({ values, stepDeg }: { values: number; stepDeg: number }) => values * stepDeg

/**
 * How far the gate of every disc stands from the sidebar while the key is turned, degrees. A cut of a value takes its disc along that
 * many steps later, so that at the stop each gate is off by its difference in steps.
 */
export function gateAngles({ lock, key }: MadeUpPair, turn: { stepDeg: number; values: number; keyDeg: number }) {
  const { stepDeg, keyDeg } = turn
  const full = fullTurnDeg(turn)
  return lock.map((value, disc) => value * stepDeg - full + Math.max(0, keyDeg - (key[disc] ?? 0) * stepDeg))
}

/** Discs, counted from 0, whose gate does not let the sidebar in. */
export function discsInTheWay(gatesDeg: readonly number[], halfWindowDeg: number): readonly number[] {
  return gatesDeg.flatMap((angle, disc) => (Math.abs(angle) <= halfWindowDeg + 1e-9 ? [] : [disc]))
}

/** What the discs say to a key, in one sentence. */
export function turningWords(inTheWay: readonly number[], discs: number): string {
  if (inTheWay.length === 0) return `All ${discs} gates stand in line: the sidebar drops, the barrel may turn.`
  if (inTheWay.length === discs) return `No gate stands under the sidebar.`
  const named = inTheWay.map((disc) => disc + 1)
  const list = named.length > 4 ? `${named.length} of ${discs} discs hold` : `Disc ${joined(named)} ${verb(named)}`
  return `${list} the sidebar out: it cannot drop.`
}

const verb = (named: readonly number[]) => (named.length === 1 ? 'holds' : 'hold')
const joined = (named: readonly number[]) =>
  named.length < 2 ? `${named[0]}` : `${named.slice(0, -1).join(', ')} and ${named.at(-1)}`

/** A stretch of the row of a disc, as shares of its width. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/** What is drawn in the row of a disc, the sidebar standing at a half. */
export interface WindowMarks {
  readonly window?: Stretch
  /** The part of the window that lets the sidebar pass three standard deviations off to either side. */
  readonly sure?: Stretch
  /** ±3σ of the gate's place about its middle. */
  readonly spread?: Stretch
  /** On which side the gate stands, where it is out of the picture. */
  readonly beyond?: 'left' | 'right'
  readonly state: 'sure' | 'perhaps' | 'out'
}

/** The marks of a gate at an angle, in a row that shows `reachDeg` to either side of the sidebar. */
export function windowMarks(
  angleDeg: number,
  { halfWindowDeg, sigmaDeg, reachDeg }: { halfWindowDeg: number; sigmaDeg: number; reachDeg: number },
): WindowMarks {
  const spread = 3 * sigmaDeg
  const off = Math.abs(angleDeg)
  const state = off <= halfWindowDeg - spread ? 'sure' : off <= halfWindowDeg + spread ? 'perhaps' : 'out'
  const stretch = (half: number): Stretch | undefined => {
    const [from, to] = [angleDeg - half, angleDeg + half].map((deg) => Math.max(-reachDeg, Math.min(reachDeg, deg)))
    if (from === undefined || to === undefined || half < 0 || from >= to) return undefined
    return { from: (from / reachDeg + 1) / 2, to: (to / reachDeg + 1) / 2 }
  }
  const parts = { window: stretch(halfWindowDeg), sure: stretch(halfWindowDeg - spread), spread: stretch(spread) }
  return {
    ...Object.fromEntries(Object.entries(parts).filter(([, part]) => part !== undefined)),
    ...(parts.window === undefined ? { beyond: angleDeg < 0 ? 'left' : 'right' } : {}),
    state,
  }
}
