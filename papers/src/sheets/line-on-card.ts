import { type DesignPlan, formatNumber, linePlan, type OperationKind, type WorksPlan } from '@haspwright/engine'
import {
  type CarrierState,
  carrierPathDrawing,
  clock,
  cycleWords,
  type LinePicture,
  linePicture,
  platingLineDrawing,
  printPalette,
} from '../drawing/index.ts'

const WIDTH_MM = 180
const PATH_HEIGHT_MM = 70
/** Steps whose tanks stand on the line; the round of a rack is printed once, on the card of nickel. */
const ON_LINE: readonly OperationKind[] = ['clean', 'nickel', 'chromium']

/** The line of a step as its card shows it; empty where the step is not on it, or the line has no timetable. */
export interface LineOnCard {
  readonly line: string
  readonly path: string
  readonly words: string
  readonly moves: readonly {
    readonly at: string
    readonly carrier: string
    readonly from: string
    readonly to: string
    readonly soak: string
    readonly window: string
  }[]
  readonly severalCarriers: boolean
}

const NOTHING: LineOnCard = { line: '', path: '', words: '', moves: [], severalCarriers: false }

/** The line drawn as it stands at the beginning of its cycle; with nickel, the carriers' diagram and the moves of a cycle too. */
export function lineOnCard({ works }: WorksPlan, { design }: DesignPlan, operation: OperationKind): LineOnCard {
  if (!ON_LINE.includes(operation)) return NOTHING
  const plan = linePlan(design, works)
  if (!plan.ok) return NOTHING
  const { answer, input, stations } = plan
  const picture = linePicture(input, answer, stations)
  const words = cycleWords(input, answer)
  const { tanks, reachM, gapM } = picture
  const line = platingLineDrawing({
    tanks,
    reachM,
    ...(gapM === undefined ? {} : { gapM }),
    widthMm: WIDTH_MM,
    slowestStation: answer.slowestTank,
    carriers: carriersAt0(picture),
    filled: racksAt0(picture),
    palette: printPalette,
    words,
  })
  const cycle = `A rack every ${clock(answer.cycleS)} min${answer.proven ? ', proven shortest' : ''}; the first is back ${clock(answer.startUp.firstOutS)} min after it went in. Numbers are stations; boxed, the one that sets the pace.`
  if (operation !== 'nickel') return { ...NOTHING, line, words: cycle }
  const name = (station: number) => `${station} ${stations[station]?.name ?? ''}`
  return {
    line,
    words: cycle,
    path: carrierPathDrawing({
      ...picture,
      widthMm: WIDTH_MM,
      heightMm: PATH_HEIGHT_MM,
      palette: printPalette,
      words,
    }),
    moves: answer.removals.map(({ tank, atS, hoist }) => {
      const { minS, maxS } = input.tanks[tank] ?? { minS: 0, maxS: null }
      return {
        at: clock(atS),
        carrier: String(hoist + 1),
        from: name(tank),
        to: name((tank + 1) % stations.length),
        soak: clock(answer.soaks.find((soak) => soak.tank === tank)?.soakS ?? 0),
        window: windowWords(minS, maxS),
      }
    }),
    severalCarriers: input.hoists > 1,
  }
}

function windowWords(minS: number, maxS: number | null): string {
  if (maxS !== null) return `${formatNumber(minS, 4)} to ${formatNumber(maxS, 4)} s`
  return minS === 0 ? 'as long as it likes' : `${formatNumber(minS, 4)} s or longer`
}

/** A carrier that begins the cycle with a move has its hook at the rack. */
function carriersAt0({ carriers, moves }: LinePicture): CarrierState[] {
  return carriers.map(({ name, legs }, carrier) => ({
    name,
    placeM: legs[0]?.fromM ?? 0,
    lifted: moves.some((move) => move.carrier === carrier && move.fromS === 0) ? 0 : 1,
    loaded: false,
  }))
}

/** Tanks that hold a rack when a cycle begins. */
function racksAt0({ tanks, spans }: LinePicture): number[] {
  return tanks.flatMap(({ station }, index) => {
    const racks = spans.filter((span) => span.station === station && span.fromS <= 0 && span.toS > 0).length
    return index - tanks.findIndex((tank) => tank.station === station) < racks ? [index] : []
  })
}
