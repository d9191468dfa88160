/** Readings of a furnace log, and the stretches in which every couple lay in a window. */
export interface LoggedReading {
  readonly minutes: number
  readonly temperaturesC: readonly (number | null)[]
}

/** A stretch of time with every couple in the window. */
export interface Stretch {
  readonly fromMinutes: number
  readonly toMinutes: number
}

/** Two stretches that meet within this are one. */
const MEETING_MINUTES = 1e-9

/**
 * The stretches in which all couples lie within a window, straight between readings. Nothing is counted across a gap longer
 * than allowed, nor where a couple gave nothing.
 */
export function stretchesWithin(
  readings: readonly LoggedReading[],
  { lowC, highC, maxGapMinutes }: { lowC: number; highC: number; maxGapMinutes: number },
): Stretch[] {
  const stretches: Stretch[] = []
  for (const [a, b] of pairs(readings)) {
    const span = b.minutes - a.minutes
    const inside = span > maxGapMinutes ? undefined : shareInside(a, b, lowC, highC)
    if (inside === undefined) continue
    const [from, to] = inside
    const found = { fromMinutes: a.minutes + from * span, toMinutes: a.minutes + to * span }
    const last = stretches[stretches.length - 1]
    if (last !== undefined && found.fromMinutes - last.toMinutes <= MEETING_MINUTES)
      stretches[stretches.length - 1] = { fromMinutes: last.fromMinutes, toMinutes: found.toMinutes }
    else stretches.push(found)
  }
  return stretches
}

/** The longest of them. */
export function longest(stretches: readonly Stretch[]): Stretch | undefined {
  return [...stretches].sort((a, b) => b.toMinutes - b.fromMinutes - (a.toMinutes - a.fromMinutes))[0]
}

/**
 * Widest apart that two couples were at a reading in a stretch; `undefined` when no reading fell into it. Read between readings it
 * would be the width of the window, whenever one couple enters or leaves before the others.
 */
export function spreadIn(readings: readonly LoggedReading[], { fromMinutes, toMinutes }: Stretch): number | undefined {
  const spreads = readings
    .filter(({ minutes }) => minutes >= fromMinutes - MEETING_MINUTES && minutes <= toMinutes + MEETING_MINUTES)
    .flatMap(({ temperaturesC }) => {
      const given = temperaturesC.filter((t) => t !== null)
      return given.length === 0 ? [] : [Math.max(...given) - Math.min(...given)]
    })
  return spreads.length === 0 ? undefined : spreads.reduce((most, spread) => Math.max(most, spread), 0)
}

/** Neighbouring readings. */
export function pairs(readings: readonly LoggedReading[]): (readonly [LoggedReading, LoggedReading])[] {
  return readings.flatMap((b, i) => {
    const a = readings[i - 1]
    return a === undefined ? [] : [[a, b] as const]
  })
}

/** From which share of the way between two readings to which all couples lie in the window. */
function shareInside(a: LoggedReading, b: LoggedReading, lowC: number, highC: number): [number, number] | undefined {
  let from = 0
  let to = 1
  for (const [i, start] of a.temperaturesC.entries()) {
    const end = b.temperaturesC[i]
    if (start === null || end === null || end === undefined) return undefined
    for (const [limit, sign] of [
      [lowC, 1],
      [highC, -1],
    ] as const) {
      // inside where sign·(T − limit) ≥ 0
      const [before, after] = [sign * (start - limit), sign * (end - limit)]
      if (before < 0 && after < 0) return undefined
      if (before < 0) from = Math.max(from, before / (before - after))
      else if (after < 0) to = Math.min(to, before / (before - after))
    }
  }
  return from <= to ? [from, to] : undefined
}
