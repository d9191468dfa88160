/** A path in straight pieces: where something is at which time. Times rise; between two points it moves evenly. */
export interface PathPoint {
  readonly atS: number
  readonly place: number
}
export type Path = readonly PathPoint[]

/** Place at a time; before the first point and after the last the path stands still. */
export function placeAt(path: Path, atS: number): number {
  const k = path.findIndex((point) => point.atS >= atS)
  const [from, to] = [path[k - 1], path[k]]
  if (to === undefined) return path.at(-1)?.place ?? Number.NaN
  if (from === undefined) return to.place
  return from.place + ((to.place - from.place) * (atS - from.atS)) / (to.atS - from.atS)
}

/** The farther of two paths at every time, or the nearer with `Math.min`; where they cross, a point is put in. */
export function outermost(p: Path, q: Path, pick: (a: number, b: number) => number): Path {
  const times = [...new Set([...p, ...q].map(({ atS }) => atS))].sort((a, b) => a - b)
  const points: PathPoint[] = []
  let before: { atS: number; p: number; q: number } | undefined
  for (const atS of times) {
    const now = { atS, p: placeAt(p, atS), q: placeAt(q, atS) }
    if (before !== undefined) {
      const [was, is] = [before.p - before.q, now.p - now.q]
      if (was * is < 0) {
        const crossing = before.atS + ((now.atS - before.atS) * was) / (was - is)
        if (crossing > before.atS && crossing < atS) points.push({ atS: crossing, place: placeAt(p, crossing) })
      }
    }
    points.push({ atS, place: pick(now.p, now.q) })
    before = now
  }
  return straightened(points)
}

/** The same path without the points that lie on the line between their neighbours. */
export function straightened(path: Path): Path {
  const kept: PathPoint[] = []
  path.forEach((point, k) => {
    const [last, next] = [kept.at(-1), path[k + 1]]
    if (last !== undefined && next !== undefined) {
      const onLine = last.place + ((next.place - last.place) * (point.atS - last.atS)) / (next.atS - last.atS)
      if (Math.abs(onLine - point.place) <= 1e-9 * (1 + Math.abs(point.place))) return
    }
    if (last === undefined || point.atS > last.atS) kept.push(point)
  })
  return kept
}
