import { z } from 'zod'
import { longCalculation } from '../calculation.ts'
import { movingMachinery } from '../caution.ts'
import { type Refusal, refuse } from '../issue.ts'
import { loadHighs } from '../numeric/integer-program.ts'
import { count, list, percent, quantity, text } from '../quantity.ts'
import { source } from '../source.ts'
import { layouts, remnants } from './cutting-layouts.ts'
import { type CuttingProblem, cuttingProblem } from './cutting-problem.ts'
import { searchPlan } from './cutting-search.ts'

const gilmoreGomory = source({
  id: 'paper.gilmore-gomory-1961',
  status: 'from memory (unverified)',
  citation:
    'P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations Research 9 (1961) 849–859',
  note: 'The method is recalled; what it gives is checked against published instances with known optima.',
})

const textbookRolls = source({
  id: 'book.fourer-ampl-cutting',
  status: 'from memory (unverified)',
  citation: 'Fourer, Gay, Kernighan, AMPL, 2nd edition, sections 15.3–15.5',
  place: 'rolls of 110',
  note: 'The data were read; the optimum of 47 rolls is recalled from the book and proved here by complete enumeration.',
})

const falkenauer = source({
  id: 'paper.falkenauer-1996',
  status: 'paper',
  citation:
    'E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996) 5–30; OR-Library',
  place: 'instance u120_00',
  note: 'Optimum read in a public collection of bounds.',
})

/** The first published instance of 120 pieces, in the form of an order. */
const u120 =
  '98*3 96*2 94 93*2 92 91*2 90 87 86 85*2 84*5 83*2 82*2 81 80*3 79*2 78*4 76 74*2 73*4 72 71 70*3 69*3 67 66 64 62*2 60*2 59 58*3 57*4 55*3 50 49*3 47 46*2 45*2 44*2 43*4 42*5 41*3 39*2 38*3 37 36*3 35 33*3 32*2 30*3 29 28 27*2 26 25*2 24 23*2 20'

const stockLength = quantity('L', 'mm', 'Stock length', { min: 1, max: 100_000 })
const pieceCount = count('Pieces', { min: 0 })

/**
 * Which pieces to cut from which bar so that an order takes the fewest bars, or the cheapest.
 *
 * Column generation for the bound, an integer program for the plan, and, where they do not meet, the integer program over
 * every way of cutting that a better plan could use. The answer says whether it is proven, and gives the bound.
 */
export const cutPlan = longCalculation({
  id: 'body.cut-plan',
  title: 'Bars and cutting layouts for an order',
  summary:
    'Layouts that cut all pieces of an order from the fewest bars, or the cheapest, with kerf, end trim and grip, and the proof or the honest bound.',
  assumes: [
    'usable length U = stock − end trim − grip; the end trim includes its own cut',
    'with a grip end every piece is cut off: k pieces fit when Σ lengths + k·kerf ≤ U; without, the last piece may end with the bar: Σ lengths + (k − 1)·kerf ≤ U',
    'least cost where stock has costs, else the fewest bars; bars being equal, each layout goes on the shortest stock that takes it',
  ],
  sources: [gilmoreGomory],
  cautions: [movingMachinery],
  input: z.strictObject({
    stock: list(
      'Stock lengths',
      z.strictObject({
        lengthMm: stockLength,
        quantity: count('Bars at hand', { min: 1, max: 1_000_000, help: 'Left out: as many as needed' }).optional(),
        costMinor: count('Cost of a bar in minor units of money', {
          min: 0,
          max: 10_000_000,
          help: 'For every stock length or for none',
        }).optional(),
      }),
      { max: 20 },
    ),
    kerfMm: quantity('k', 'mm', 'Kerf of the saw', { min: 0, max: 50 }),
    endTrimMm: quantity('t', 'mm', 'End trim with its cut', { min: 0, max: 5000 }),
    gripMm: quantity('g', 'mm', 'Length that stays in the clamp', { min: 0, max: 5000 }),
    pieces: list(
      'Pieces',
      z.strictObject({
        name: text('Piece', { max: 100 }),
        lengthMm: quantity('l', 'mm', 'Length', { min: 1, max: 100_000 }),
        quantity: count('Quantity', { min: 1, max: 1_000_000 }),
      }),
      { max: 400 },
    ),
    keepFromMm: quantity(null, 'mm', 'Shortest remnant worth keeping', {
      min: 1,
      max: 100_000,
      help: 'Left out: remnants are not listed. What stays in the clamp belongs to the remnant',
    }).optional(),
    seconds: quantity(null, 's', 'Time at most, where the caller keeps a clock', {
      min: 0.1,
      max: 600,
      help: 'Left out: 10 s. Orders of a usual size need a fraction of a second',
    }).optional(),
  }),
  output: z.strictObject({
    bars: count('Bars needed', { min: 0 }),
    layouts: list(
      'Layouts',
      z.strictObject({
        stockLengthMm: stockLength,
        times: count('Bars cut like this', { min: 1 }),
        pieces: z.record(z.string().meta({ title: 'Piece' }), pieceCount).meta({ title: 'Pieces from one bar' }),
        offcutMm: quantity(null, 'mm', 'Offcut', { min: 0 }),
      }),
      { min: 0, max: 1_000_000 },
    ),
    lowerBound: quantity(null, '', 'Lower bound of bars, or of cost where costs are given', { min: 0 }),
    proven: z.boolean().meta({ title: 'Proven: no plan needs less' }),
    usePercent: percent(null, 'Length of pieces in the length of bars', { min: 0, max: 100 }),
    objective: z.enum(['bars', 'cost']).meta({ title: 'What was made least' }),
    costMinor: quantity(null, '', 'Cost of the bars in minor units of money', { min: 0 }).optional(),
    remnants: list(
      'Remnants worth keeping',
      z.strictObject({
        lengthMm: quantity(null, 'mm', 'Length', { min: 0 }),
        quantity: count('Pieces', { min: 1 }),
      }),
      { min: 0, max: 1_000_000 },
    ).optional(),
  }),
  examples: [
    {
      title: 'rolls of 110: 47 are needed (AMPL book, 15.3–15.5)',
      source: textbookRolls,
      input: {
        stock: [{ lengthMm: 110 }],
        kerfMm: 0,
        endTrimMm: 0,
        gripMm: 0,
        pieces: [20, 45, 50, 55, 75].map((lengthMm, i) => ({
          name: `width ${lengthMm}`,
          lengthMm,
          quantity: [48, 35, 24, 10, 8][i] ?? 0,
        })),
      },
      output: { bars: 47, lowerBound: 47, proven: true },
    },
    {
      title: '120 pieces in bars of 150: 48 are needed (Falkenauer u120_00)',
      source: falkenauer,
      input: {
        stock: [{ lengthMm: 150 }],
        kerfMm: 0,
        endTrimMm: 0,
        gripMm: 0,
        pieces: u120.split(' ').map((entry) => {
          const [length = '0', times = '1'] = entry.split('*')
          return { name: length, lengthMm: Number(length), quantity: Number(times) }
        }),
      },
      output: { bars: 48, proven: true },
    },
  ],
  working:
    'Column generation: the linear program over ways of cutting a bar prices each length, a bounded knapsack finds the way worth most at those prices, until none is worth its bar. The prices, rounded to whole numbers, prove the lower bound; whole bars come from integer programs, and where they miss the bound, from the integer program over every way of cutting a better plan could use.',
  async run({ seconds = 10, keepFromMm, ...order }, { notice, progress, signal, spentSeconds }) {
    const problem = cuttingProblem(order, notice)
    if (!('types' in problem)) return problem
    progress(0, 'Loading the solver')
    const highs = await loadHighs()
    const { plan, lowerBound, proven, missing } = searchPlan(highs, problem, {
      seconds,
      aborted: () => signal.aborted || spentSeconds() > seconds,
      progress,
    })
    if (signal.aborted)
      return refuse({
        path: '',
        code: 'not-converged',
        message: 'The search was cancelled before a plan was complete.',
      })
    if (plan === undefined) return tooFewBars(problem, { missing, proven })
    const cut = layouts(problem, order, plan.cuts)
    const bars = cut.reduce((sum, { times }) => sum + times, 0)
    const barLength = cut.reduce((sum, { times, stockLengthMm }) => sum + times * stockLengthMm, 0)
    const pieceLength = order.pieces.reduce((sum, { lengthMm, quantity: n }) => sum + lengthMm * n, 0)
    if (!proven)
      notice(`Not proven least: the best plan found and the lower bound of ${lowerBound * problem.costUnit} differ.`)
    progress(1, 'Done')
    return {
      bars,
      layouts: cut,
      lowerBound: lowerBound * problem.costUnit,
      proven,
      usePercent: Math.min(100, (100 * pieceLength) / barLength),
      objective: problem.objective,
      ...(problem.objective === 'cost' ? { costMinor: plan.cost * problem.costUnit } : {}),
      ...(keepFromMm === undefined ? {} : { remnants: remnants(cut, order.gripMm, keepFromMm) }),
    }
  },
})

function tooFewBars(
  { types }: CuttingProblem,
  { missing, proven }: { missing: readonly number[]; proven: boolean },
): Refusal {
  const left = types.flatMap(({ lengthMm, names }, i) => {
    const n = missing[i] ?? 0
    return n > 0 ? [{ lengthMm, n, name: names.map(({ name }) => name.slice(0, 40)).join(' or ') }] : []
  })
  const length = left.reduce((sum, { lengthMm, n }) => sum + lengthMm * n, 0)
  const named = left.slice(0, 5).map(({ name, lengthMm, n }) => `${n} × ${name} (${lengthMm} mm)`)
  return refuse({
    path: 'stock',
    code: proven ? 'contradiction' : 'not-converged',
    message: `${proven ? 'The bars at hand are too few' : 'No plan was found that does with the bars at hand'}: ${
      left.length === 0
        ? 'the pieces do not go into them in any combination tried'
        : `about ${Math.ceil(length)} mm of pieces stay uncut, among them ${named.join(', ')}`
    }. Add bars or take a limit off.`,
    allowed: 'enough bars for all pieces',
  })
}
