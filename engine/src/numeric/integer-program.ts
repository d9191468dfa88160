/**
 * Linear and integer programs, solved by HiGHS (WebAssembly).
 *
 * The model is handed over as sparse arrays, which the solver's module checks, never as text: nothing can be misread. An
 * ending that means the model itself was not understood (the status `Empty` among them) is a fault and is thrown.
 */

/** One variable: its cost, its limits (0 and up unless given) and its entries in the rows. */
export interface Column {
  readonly cost: number
  readonly lower?: number
  readonly upper?: number
  readonly rows: readonly number[]
  readonly values: readonly number[]
}

/** A minimisation over columns; each row's activity stays within its bounds. */
export interface Program {
  readonly rowBounds: readonly (readonly [number, number])[]
  readonly columns: readonly Column[]
}

/** How a solve ended: with the optimum, with the proof that there is none, at the target asked for, or at a limit. */
export type Ending = 'optimal' | 'infeasible' | 'target' | 'limit'

export interface Solved {
  readonly ending: Ending
  /** One value per column; absent when no feasible values were found. */
  readonly values?: Float64Array
  /** One value per row, linear programs only: change of the optimum per unit of the row's bound. */
  readonly duals?: Float64Array
  readonly objective: number
  /** Proven lower bound of an integer program's optimum; minus infinity when none is known. */
  readonly bound: number
  /** Seconds the solver says it took. */
  readonly seconds: number
}

export interface SolveLimits {
  /** Seconds after which the best found so far is returned. */
  readonly seconds?: number
  /** A cost that is good enough: the solve ends when it is reached. */
  readonly target?: number
  /** Ends an integer solve when what was found is at most this far above the proven bound. */
  readonly gap?: number
  readonly aborted?: () => boolean
}

/** The part of the solver's module that is used here. */
export interface Highs {
  readonly infinity: number
  createModel(data: unknown): HighsModel
}
interface HighsModel {
  readonly options: { set(values: Readonly<Record<string, string | number | boolean>>): unknown }
  readonly info: { get(name: string): number | bigint }
  run(callbacks?: Readonly<Record<number, (event: { interrupt(): void }) => undefined>>): {
    readonly modelStatus: number
  }
  getSolution(): { readonly colValue: Float64Array; readonly rowDual: Float64Array }
  getObjectiveValue(): number
  getRunTime(): number
  addCols(data: unknown): unknown
  changeRowBounds(row: number, lower: number, upper: number): unknown
  changeColBounds(column: number, lower: number, upper: number): unknown
  changeColCost(column: number, cost: number): unknown
  dispose(): void
}

/** The default finds the solver's program file by itself, as Node does; a page passes its own loader that knows the address. */
let loader: () => Promise<Highs> = async () => {
  const module: unknown = await import('highs')
  // The package declares its types for CommonJS; what an ES module receives is the loader as its default export.
  const load = (module as { default: (options?: object) => Promise<unknown> }).default
  return (await load()) as Highs
}
let loaded: Promise<Highs> | undefined

/** Says how to load the solver, where the default `import('highs')` does not find its program file: in a browser's worker. */
export function provideHighs(provided: () => Promise<Highs>): void {
  loader = provided
  loaded = undefined
}

/** The solver, loaded once. */
export function loadHighs(): Promise<Highs> {
  loaded ??= loader().catch((cause: unknown) => {
    loaded = undefined
    throw new Error('The solver could not be loaded.', { cause })
  })
  return loaded
}

/** What the solver's model status numbers mean to a caller; every other number is a fault. */
const ENDINGS: Readonly<Record<number, Ending>> = {
  7: 'optimal',
  8: 'infeasible',
  11: 'target',
  12: 'target',
  13: 'limit',
  14: 'limit',
  15: 'limit',
  16: 'limit',
  17: 'limit',
}
const MIP_INTERRUPT = 6
const FEASIBLE = 2

/** A linear program that stays in the solver: columns join it, bounds and costs change, and each solve starts from the last basis. */
export class LinearProgram {
  readonly #highs: Highs
  readonly #model: HighsModel
  readonly #rows: number
  #columns: number

  constructor(highs: Highs, program: Program) {
    this.#highs = highs
    this.#rows = program.rowBounds.length
    this.#columns = program.columns.length
    this.#model = highs.createModel(modelData(highs, program, false))
    this.#model.options.set({ output_flag: false })
  }

  addColumns(columns: readonly Column[]): void {
    if (columns.length === 0) return
    const { colCost, colLower, colUpper, matrix } = columnData(this.#highs, columns, this.#rows)
    this.#model.addCols({ cost: colCost, lower: colLower, upper: colUpper, matrix })
    this.#columns += columns.length
  }

  setRowBounds(row: number, [lower, upper]: readonly [number, number]): void {
    this.#model.changeRowBounds(row, finite(this.#highs, lower), finite(this.#highs, upper))
  }

  setColumnBounds(column: number, [lower, upper]: readonly [number, number]): void {
    this.#model.changeColBounds(column, finite(this.#highs, lower), finite(this.#highs, upper))
  }

  setCost(column: number, cost: number): void {
    this.#model.changeColCost(column, cost)
  }

  get size(): number {
    return this.#columns
  }

  solve(): Solved {
    return read(this.#model, this.#model.run().modelStatus, false)
  }

  /** Frees the solver's memory; nothing else does. */
  dispose(): void {
    this.#model.dispose()
  }
}

/** Solves a program in which every column is a whole number. */
export function solveInteger(highs: Highs, program: Program, limits: SolveLimits = {}): Solved {
  const model = highs.createModel(modelData(highs, program, true))
  try {
    model.options.set({
      output_flag: false,
      mip_rel_gap: 0,
      mip_abs_gap: limits.gap ?? 1e-6,
      ...(limits.seconds === undefined ? {} : { time_limit: Math.max(0.01, limits.seconds) }),
      ...(limits.target === undefined ? {} : { objective_target: limits.target }),
    })
    const { aborted } = limits
    const callbacks =
      aborted === undefined
        ? undefined
        : {
            [MIP_INTERRUPT]: (event: { interrupt(): void }) => {
              if (aborted()) event.interrupt()
              return undefined
            },
          }
    return read(model, model.run(callbacks).modelStatus, true)
  } finally {
    model.dispose()
  }
}

function read(model: HighsModel, status: number, integer: boolean): Solved {
  const ending = ENDINGS[status]
  if (ending === undefined) throw new Error(`The solver did not understand a model of ours: model status ${status}.`)
  const feasible = Number(model.info.get('primal_solution_status')) === FEASIBLE
  const solution = feasible ? model.getSolution() : undefined
  return {
    ending,
    ...(solution === undefined ? {} : { values: solution.colValue }),
    ...(solution === undefined || integer ? {} : { duals: solution.rowDual }),
    objective: feasible ? model.getObjectiveValue() : Number.POSITIVE_INFINITY,
    bound: integer ? Number(model.info.get('mip_dual_bound')) : Number.NEGATIVE_INFINITY,
    seconds: model.getRunTime(),
  }
}

function modelData(highs: Highs, { rowBounds, columns }: Program, integer: boolean) {
  return {
    numCols: columns.length,
    numRows: rowBounds.length,
    rowLower: rowBounds.map(([lower]) => finite(highs, lower)),
    rowUpper: rowBounds.map(([, upper]) => finite(highs, upper)),
    ...columnData(highs, columns, rowBounds.length),
    ...(integer ? { integrality: new Int32Array(columns.length).fill(1) } : {}),
  }
}

/** Columns as the solver takes them: costs, limits, and the entries packed column by column. */
export function columnData({ infinity }: Pick<Highs, 'infinity'>, columns: readonly Column[], numRows: number) {
  const starts = new Int32Array(columns.length + 1)
  for (const [j, { rows, values }] of columns.entries()) {
    if (rows.length !== values.length || rows.some((row) => row < 0 || row >= numRows))
      throw new Error(`Column ${j} does not fit the rows.`)
    starts[j + 1] = (starts[j] ?? 0) + rows.length
  }
  return {
    colCost: Float64Array.from(columns, ({ cost }) => cost),
    colLower: Float64Array.from(columns, ({ lower }) => lower ?? 0),
    colUpper: Float64Array.from(columns, ({ upper }) => finite({ infinity }, upper ?? Number.POSITIVE_INFINITY)),
    matrix: {
      format: 'csc',
      numRows,
      numCols: columns.length,
      starts,
      indices: Int32Array.from(columns.flatMap(({ rows }) => rows)),
      values: Float64Array.from(columns.flatMap(({ values }) => values)),
    },
  }
}

function finite({ infinity }: Pick<Highs, 'infinity'>, bound: number): number {
  if (bound === Number.POSITIVE_INFINITY) return infinity
  return bound === Number.NEGATIVE_INFINITY ? -infinity : bound
}
