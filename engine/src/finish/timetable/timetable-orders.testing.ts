import { type Column, type Highs, LinearProgram } from '../../numeric/integer-program.ts'
import { SeededRandom } from '../../numeric/seeded-random.ts'

export interface PlainLine {
  readonly tanks: readonly { readonly minS: number; readonly maxS: number | null }[]
  readonly loadedMoveS: readonly number[]
  readonly emptyMoveS: readonly (readonly number[])[]
}

/** A line of tanks in a row at whole places, visited in a random order of the process, with windows of every width. */
export function randomLine(seed: number, stations: number): PlainLine {
  const generator = new SeededRandom(seed)
  const random = () => generator.uniform()
  const whole = (from: number, to: number) => from + Math.floor(random() * (to - from + 1))
  const places = Array.from({ length: stations }, (_, i) => i).sort(() => random() - 0.5)
  const way = (i: number, j: number) => 3 * Math.abs((places[i] ?? 0) - (places[j] ?? 0))
  return {
    tanks: Array.from({ length: stations }, (_, i) => {
      const minS = whole(5, 90)
      return { minS: i === 0 ? 0 : minS, maxS: i === 0 || random() < 0.25 ? null : minS + whole(0, 60) }
    }),
    loadedMoveS: Array.from({ length: stations }, (_, i) => 14 + way(i, (i + 1) % stations)),
    emptyMoveS: Array.from({ length: stations }, (_, i) => Array.from({ length: stations }, (_, j) => way(i, j))),
  }
}

/** Least period over all orders of the moves, each order solved as a linear program; `undefined` where no order can be kept. */
export function leastOverAllOrders(highs: Highs, line: PlainLine): number | undefined {
  const rest = line.tanks.map((_, i) => i).slice(1)
  const periods = permutations(rest).map((order) => leastForOrder(highs, line, [0, ...order]))
  const least = Math.min(...periods)
  return least === Number.POSITIVE_INFINITY ? undefined : least
}

function leastForOrder(highs: Highs, { tanks, loadedMoveS, emptyMoveS }: PlainLine, order: readonly number[]): number {
  const n = tanks.length
  const rows: (readonly [terms: readonly (readonly [number, number])[], low: number, high: number])[] = []
  const gap = (i: number, j: number) => (loadedMoveS[i] ?? 0) + (emptyMoveS[(i + 1) % n]?.[j] ?? 0)
  const UP = Number.POSITIVE_INFINITY
  for (const [p, i] of order.entries())
    for (const j of order.slice(p + 1)) {
      rows.push([
        [
          [j, 1],
          [i, -1],
        ],
        gap(i, j),
        UP,
      ])
      rows.push([
        [
          [n, 1],
          [i, 1],
          [j, -1],
        ],
        gap(j, i),
        UP,
      ])
    }
  for (const [i, { minS, maxS }] of tanks.entries()) {
    const filling = (i + n - 1) % n
    const wraps = order.indexOf(i) > order.indexOf(filling) ? 0 : 1
    const moveS = loadedMoveS[filling] ?? 0
    rows.push([
      [
        [i, 1],
        [filling, -1],
        [n, wraps],
      ],
      minS + moveS,
      maxS === null ? UP : maxS + moveS,
    ])
  }
  const columns: Column[] = Array.from({ length: n + 1 }, (_, k) => {
    const own = rows.flatMap(([terms], row) =>
      terms.filter(([column]) => column === k).map(([, value]) => [row, value] as const),
    )
    return { cost: k === n ? 1 : 0, rows: own.map(([row]) => row), values: own.map(([, value]) => value) }
  })
  const program = new LinearProgram(highs, { rowBounds: rows.map(([, low, high]) => [low, high] as const), columns })
  const solved = program.solve()
  program.dispose()
  return solved.ending === 'optimal' ? solved.objective : UP
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]]
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  )
}
