import { solveMixed } from '../../../../benchmarks/timetable-program.mjs'
import { columnData, type Highs } from '../../numeric/integer-program.ts'
import { SeededRandom } from '../../numeric/seeded-random.ts'

export interface TrackLine {
  readonly tanks: readonly { minS: number; maxS: number | null; places?: number }[]
  readonly loadedMoveS: readonly number[]
  readonly emptyMoveS: readonly (readonly number[])[]
  readonly track: { placesM: number[]; gapM: number; speedMPerS: number; liftS: number; lowerS: number }
}

/** A line of tanks 2 m apart, visited in a random order, with windows of every width, in whole seconds. */
export function randomTrackLine(seed: number, stations: number, widest = 60): TrackLine {
  const generator = new SeededRandom(seed)
  const whole = (from: number, to: number) => from + Math.floor(generator.uniform() * (to - from + 1))
  const order = Array.from({ length: stations }, (_, i) => i).sort(() => generator.uniform() - 0.5)
  const placesM = order.map((place) => 2 * place)
  const track = { placesM, gapM: 2, speedMPerS: 0.5, liftS: 6, lowerS: 5 }
  const travelS = (i: number, j: number) => Math.abs((placesM[i] ?? 0) - (placesM[j] ?? 0)) / track.speedMPerS
  return {
    tanks: order.map((_, i) => {
      const minS = whole(5, 90)
      return { minS: i === 0 ? 0 : minS, maxS: i === 0 || generator.uniform() < 0.25 ? null : minS + whole(0, widest) }
    }),
    loadedMoveS: order.map((_, i) => 11 + travelS(i, (i + 1) % stations)),
    emptyMoveS: order.map((_, i) => order.map((_unused, j) => travelS(i, j))),
    track,
  }
}

/** Place of a loaded carrier, seconds after its move began. */
function placeOf({ track, loadedMoveS }: TrackLine, move: number, s: number): number {
  const { placesM, liftS, lowerS } = track
  const [from, to] = [placesM[move] ?? 0, placesM[(move + 1) % placesM.length] ?? 0]
  const share = (s - liftS) / ((loadedMoveS[move] ?? 0) - liftS - lowerS)
  return from + (to - from) * Math.min(1, Math.max(0, share))
}

/** Sampled every second: differences of two starts, left carrier first, that bring them closer than the gap even at full speed. */
function sampledGap(
  line: TrackLine,
  left: number,
  right: number,
  clearM: number,
): readonly [number, number] | undefined {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let s = 0; s <= (line.loadedMoveS[left] ?? 0); s++)
    for (let u = 0; u <= (line.loadedMoveS[right] ?? 0); u++) {
      const close = placeOf(line, left, s) + clearM - placeOf(line, right, u)
      if (close <= 1e-9) continue
      low = Math.min(low, s - u - close / line.track.speedMPerS)
      high = Math.max(high, s - u + close / line.track.speedMPerS)
    }
  return high > low ? [low, high] : undefined
}

const UP = Number.POSITIVE_INFINITY

/**
 * Whether any timetable of this period exists: for every way to give the moves to carriers, an integer program over starts and the number
 * of cycles between them. One load in a tank. Written apart from the search: gaps are sampled along the paths.
 */
export function periodIsPossible(highs: Highs, line: TrackLine, hoists: number, periodS: number): boolean {
  const n = line.tanks.length
  return Array.from({ length: hoists ** n }, (_, code) => code).some((code) => {
    const hoistOf = line.tanks.map((_, i) => Math.floor(code / hoists ** i) % hoists)
    return solveMixed(highs, programOf(line, hoistOf, periodS), columnData) !== undefined
  })
}

function programOf(line: TrackLine, hoistOf: readonly number[], T: number) {
  const { tanks, loadedMoveS, emptyMoveS, track } = line
  const n = tanks.length
  const horizon = (n + 1) * T
  const columns: { cost: number; lower: number; upper: number; rows: number[]; values: number[] }[] = []
  const whole: boolean[] = []
  const rowBounds: [number, number][] = []
  const column = (lower: number, upper: number, isWhole: boolean) => {
    whole.push(isWhole)
    return columns.push({ cost: 0, lower, upper, rows: [], values: [] }) - 1
  }
  const atLeast = (terms: readonly (readonly [number, number])[], least: number) => {
    for (const [k, value] of terms) {
      columns[k]?.rows.push(rowBounds.length)
      columns[k]?.values.push(value)
    }
    rowBounds.push([least, UP])
  }
  const start = tanks.map((_, i) => column(0, i === 0 ? 0 : horizon, false))
  const loads = column(1, n, true)
  const soak = (i: number): readonly (readonly [number, number])[] =>
    i === 0
      ? [
          [loads, T],
          [start[n - 1] ?? 0, -1],
        ]
      : [
          [start[i] ?? 0, 1],
          [start[i - 1] ?? 0, -1],
        ]
  tanks.forEach(({ minS, maxS }, i) => {
    const moveS = loadedMoveS[(i + n - 1) % n] ?? 0
    atLeast(soak(i), minS + moveS)
    const negative = soak(i).map(([k, v]) => [k, -v] as const)
    if (maxS !== null) atLeast(negative, -maxS - moveS)
    atLeast(negative, track.liftS + track.lowerS - moveS - T)
  })
  for (let i = 0; i < n; i++)
    for (let j = i + 1; j < n; j++) {
      const [h, g] = [hoistOf[i] ?? 0, hoistOf[j] ?? 0]
      const way = (p: number, q: number) => (loadedMoveS[p] ?? 0) + (emptyMoveS[(p + 1) % n]?.[q] ?? 0)
      const turned = h > g ? sampledGap(line, j, i, (h - g) * track.gapM) : undefined
      const gap =
        h === g
          ? ([-way(j, i), way(i, j)] as const)
          : h < g
            ? sampledGap(line, i, j, (g - h) * track.gapM)
            : turned && ([-turned[1], -turned[0]] as const)
      if (gap === undefined) continue
      const k = column(-n - 2, n + 2, true)
      const [si, sj] = [start[i] ?? 0, start[j] ?? 0]
      // gap[1] + kT ≤ tj − ti ≤ gap[0] + (k + 1)T
      atLeast(
        [
          [sj, 1],
          [si, -1],
          [k, -T],
        ],
        gap[1],
      )
      atLeast(
        [
          [si, 1],
          [sj, -1],
          [k, T],
        ],
        -gap[0] - T,
      )
    }
  return { columns, rowBounds, whole }
}
