import { describe, expect, it } from 'vitest'
import { columnData, LinearProgram, loadHighs, provideHighs, solveInteger } from './integer-program.ts'

const UP = Number.POSITIVE_INFINITY

/** Chairs and tables: 30 and 50 of profit, 40 hours of carpentry (1, 2), 50 of finishing (2, 1); the README example of the solver's package. */
const workshop = {
  rowBounds: [
    [Number.NEGATIVE_INFINITY, 40],
    [Number.NEGATIVE_INFINITY, 50],
  ] as const,
  columns: [
    { cost: -30, rows: [0, 1], values: [1, 2] },
    { cost: -50, rows: [0, 1], values: [2, 1] },
  ],
}

describe('integer programs', () => {
  it('make 20 chairs and 10 tables for a profit of 1100 (the example in the documentation of HiGHS for JavaScript)', async () => {
    const solved = solveInteger(await loadHighs(), workshop)
    expect(solved.ending).toBe('optimal')
    expect(solved.objective).toBeCloseTo(-1100, 9)
    expect([...(solved.values ?? [])]).toEqual([20, 10])
  })

  it('say when there is no answer', async () => {
    const solved = solveInteger(await loadHighs(), {
      rowBounds: [[3, UP]],
      columns: [{ cost: 1, upper: 2, rows: [0], values: [1] }],
    })
    expect(solved).toMatchObject({ ending: 'infeasible' })
    expect(solved.values).toBeUndefined()
  })

  it('are whole where the linear program is not: 2x ≥ 3 at least cost', async () => {
    const highs = await loadHighs()
    const program = { rowBounds: [[3, UP] as const], columns: [{ cost: 1, rows: [0], values: [2] }] }
    expect(solveInteger(highs, program).values?.[0]).toBe(2)
    const relaxed = new LinearProgram(highs, program)
    expect(relaxed.solve().values?.[0]).toBeCloseTo(1.5, 9)
    expect(relaxed.solve().duals?.[0]).toBeCloseTo(0.5, 9)
    relaxed.dispose()
  })

  it('take a fault as a fault: a program without columns is not answered', async () => {
    const highs = await loadHighs()
    expect(() => solveInteger(highs, { rowBounds: [], columns: [] })).toThrow(/did not understand/)
  })
})

describe('a linear program that stays in the solver', () => {
  it('takes up columns, costs and bounds as they come', async () => {
    const program = new LinearProgram(await loadHighs(), {
      rowBounds: [[4, UP]],
      columns: [{ cost: 3, rows: [0], values: [1] }],
    })
    expect(program.solve().objective).toBeCloseTo(12, 9)
    program.addColumns([{ cost: 2, rows: [0], values: [1] }])
    expect(program.solve().objective).toBeCloseTo(8, 9)
    program.setColumnBounds(1, [0, 1])
    expect(program.solve().objective).toBeCloseTo(11, 9)
    program.setCost(0, 1)
    program.setRowBounds(0, [5, UP])
    expect(program.solve().objective).toBeCloseTo(5, 9)
    expect(program.size).toBe(2)
    program.dispose()
  })
})

describe('columns as the solver takes them', () => {
  it('are packed one after the other, with open upper limits as the solver writes infinity', () => {
    const packed = columnData(
      { infinity: 1e30 },
      [
        { cost: 1, rows: [0, 2], values: [3, 4] },
        { cost: 2, upper: 7, rows: [1], values: [5] },
      ],
      3,
    )
    expect([...packed.matrix.starts]).toEqual([0, 2, 3])
    expect([...packed.matrix.indices]).toEqual([0, 2, 1])
    expect([...packed.matrix.values]).toEqual([3, 4, 5])
    expect([...packed.colUpper]).toEqual([1e30, 7])
  })

  it('that do not fit the rows are a fault', () => {
    expect(() => columnData({ infinity: 1 }, [{ cost: 1, rows: [3], values: [1] }], 3)).toThrow(/does not fit/)
    expect(() => columnData({ infinity: 1 }, [{ cost: 1, rows: [0], values: [] }], 3)).toThrow(/does not fit/)
  })
})

describe('loading the solver', () => {
  it('is done once, by the loader provided, and again after one that failed', async () => {
    const highs = await loadHighs()
    expect(await loadHighs()).toBe(highs)
    let calls = 0
    provideHighs(async () => {
      calls++
      if (calls === 1) throw new Error('no such file')
      return highs
    })
    await expect(loadHighs()).rejects.toThrow('The solver could not be loaded.')
    expect(await loadHighs()).toBe(highs)
    await loadHighs()
    expect(calls).toBe(2)
  })
})
