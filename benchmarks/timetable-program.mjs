/**
 * The timetable of one carrier as a plain mixed-integer program, as textbooks write it: a start for every move, a yes or no for the
 * order of every pair of moves, and large constants that switch the rules of the order not chosen off.
 */

const UP = Number.POSITIVE_INFINITY

/** Columns, rows and which columns are whole, for `solveMixed`. Column 0 is the period, then the starts, then the orders of pairs. */
export function plainProgram({ tanks, loadedMoveS, emptyMoveS }) {
  const n = tanks.length
  const horizon = tanks.reduce((sum, { minS }) => sum + minS, 0) + loadedMoveS.reduce((sum, s) => sum + 4 * s, 0)
  const M = 3 * horizon
  const pairs = new Map()
  for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) pairs.set(`${i} ${j}`, 1 + n + pairs.size)
  const columns = Array.from({ length: 1 + n + pairs.size }, (_, k) => ({
    cost: k === 0 ? 1 : 0,
    upper: k === 0 ? horizon : k === 1 ? 0 : k <= n ? horizon : 1,
    rows: [],
    values: [],
  }))
  const rowBounds = []
  const atLeast = (terms, least) => {
    for (const [column, value] of terms) {
      columns[column].rows.push(rowBounds.length)
      columns[column].values.push(value)
    }
    rowBounds.push([least, UP])
  }
  /** Constant and terms of "i comes before j": 1 where it does. */
  const comesBefore = (i, j) => (i < j ? [0, [[pairs.get(`${i} ${j}`), 1]]] : [1, [[pairs.get(`${j} ${i}`), -1]]])
  /** terms ≥ least, asked only where i comes before j. */
  const where = (i, j, terms, least) => {
    const [constant, order] = comesBefore(i, j)
    atLeast([...terms, ...order.map(([column, value]) => [column, -M * value])], least - M + M * constant)
  }
  const gap = (i, j) => loadedMoveS[i] + emptyMoveS[(i + 1) % n][j]
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      if (i === j) continue
      // Start of i before start of j: j waits for i, and i of the next period waits for j.
      where(
        i,
        j,
        [
          [1 + j, 1],
          [1 + i, -1],
        ],
        gap(i, j),
      )
      where(
        i,
        j,
        [
          [1 + i, 1],
          [0, 1],
          [1 + j, -1],
        ],
        gap(j, i),
      )
    }
  tanks.forEach(({ minS, maxS }, i) => {
    const filling = (i + n - 1) % n
    const soak = [
      [1 + i, 1],
      [1 + filling, -1],
    ]
    const negative = soak.map(([column, value]) => [column, -value])
    const move = loadedMoveS[filling]
    where(filling, i, soak, move + minS)
    where(i, filling, [...soak, [0, 1]], move + minS)
    if (maxS === null) return
    where(filling, i, negative, -move - maxS)
    where(i, filling, [...negative, [0, -1]], -move - maxS)
  })
  // The first move of the period is that of station 0.
  for (let j = 1; j < n; j++) columns[pairs.get(`0 ${j}`)].lower = 1
  return { columns, rowBounds, whole: columns.map((_, k) => k > n) }
}

/** Least period by the solver, or `undefined` where there is none. Column entries that fall together are added up. */
export function solveMixed(highs, { columns, rowBounds, whole }, columnData) {
  const model = highs.createModel({
    numCols: columns.length,
    numRows: rowBounds.length,
    rowLower: rowBounds.map(([lower]) => lower),
    rowUpper: rowBounds.map(() => highs.infinity),
    ...columnData(highs, columns, rowBounds.length),
    integrality: Int32Array.from(whole, (isWhole) => (isWhole ? 1 : 0)),
  })
  try {
    model.options.set({ output_flag: false, mip_rel_gap: 0, mip_abs_gap: 1e-6 })
    const { modelStatus } = model.run()
    return modelStatus === 7 ? model.getObjectiveValue() : undefined
  } finally {
    model.dispose()
  }
}
