import { formatNumber } from '../display.ts'
import type { Evidence } from '../finding.ts'
import { cleaning } from '../finish/cleaning.ts'
import { deposit } from '../finish/deposit.ts'
import { timetableAtOnce } from '../finish/timetable/answer.ts'
import type { TimetableAnswer, TimetableInput } from '../finish/timetable/schemas.ts'
import { timetable } from '../finish/timetable/timetable.ts'
import { Refusal } from '../issue.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { hydrogenStrength } from './parts.ts'
import { bathOf } from './rack-load.ts'
import { remembered } from './remember.ts'
import type { Works } from './resources.ts'

type Line = NonNullable<Works['plating']['line']>
type Tank = Line['tanks'][number]

/** The timetable of the works' line for one design, or why there is none. */
export type LinePlan =
  | {
      readonly ok: true
      readonly answer: TimetableAnswer
      readonly input: TimetableInput
      readonly tanks: readonly string[]
      /** From leaving nickel to entering chromium; absent where the design or the line has not both. */
      readonly nickelToChromiumS?: number
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

/** Orders tried for a plan: a line of a dozen tanks needs a few hundred. */
const MOST_NODES = 4000

export const NO_LINE = 'The works file does not say which tanks the plating line has and how its carrier moves.'

/** When the carriers of the line move for racks of one design, load after load. */
export function linePlan(design: Design, { plating: { line } }: Pick<Works, 'plating'>): LinePlan {
  if (line === undefined) return { ok: false, because: NO_LINE }
  const stations = stationsFor(design, line)
  if (!stations.ok) return stations
  return timedLine(stations.input, stations.names)
}

type Window = { readonly ok: true; readonly minS: number; readonly maxS: number | null } | Unknown
type Unknown = { readonly ok: false; readonly because: string }

function stationsFor(design: Design, line: Line): { ok: true; input: TimetableInput; names: string[] } | Unknown {
  const tanks = line.tanks.filter(({ purpose }) => visited(design, purpose))
  const windows: { minS: number; maxS: number | null; places: number }[] = []
  for (const tank of tanks) {
    const window = windowOf(design, line, tank)
    if (!window.ok) return window
    windows.push({ minS: window.minS, maxS: window.maxS, places: tank.places ?? 1 })
  }
  const { hoists, gapM, speedMPerS, liftS, lowerS } = line
  const placesM = tanks.map(({ atM }) => atM)
  const travelS = (i: number, j: number) => Math.abs((placesM[i] ?? 0) - (placesM[j] ?? 0)) / speedMPerS
  const loadedMoveS = tanks.map((_, i) => liftS + travelS(i, (i + 1) % tanks.length) + lowerS)
  const input = {
    tanks: windows,
    loadedMoveS,
    emptyMoveS: tanks.map((_, i) => tanks.map((_other, j) => travelS(i, j))),
    track: { placesM, gapM, speedMPerS, liftS, lowerS },
    hoists,
    mostNodes: MOST_NODES,
  }
  const transfer = transferOf(design, tanks, input)
  return {
    ok: true,
    input: { ...input, ...(transfer === undefined ? {} : { transferLimits: [transfer] }) },
    names: tanks.map(({ name }) => name),
  }
}

function visited({ coating: { layers } }: Design, purpose: Tank['purpose']): boolean {
  if (purpose === 'nickel') return layers.some(({ metal }) => metal === 'nickel')
  if (purpose === 'chromium') return layers.some(({ metal }) => metal.startsWith('chromium'))
  return true
}

function windowOf(design: Design, line: Line, { purpose, name, minS = 0, maxS }: Tank): Window {
  if (purpose === 'acid') return acidWindow(design)
  if (purpose !== 'nickel' && purpose !== 'chromium') return { ok: true, minS, maxS: maxS ?? null }
  const layer = design.coating.layers.find(({ metal }) => metal.startsWith(purpose))
  if (layer === undefined) return { ok: false, because: `The design has no layer for ${name}.` }
  // Time does not depend on the area: current rises with it.
  const plated = ask(deposit, { ...bathOf(layer), areaDm2: 1 })
  if (!plated.ok) return plated
  const leastS = plated.output.minutes * 60
  return { ok: true, minS: leastS, maxS: leastS * (1 + line.overPlatePercent / 100) }
}

/** From the time that the design asks for up to what its hard steel may take. */
function acidWindow(design: Design): Window {
  const tensile = hydrogenStrength(design)
  if (!tensile.ok) return tensile
  const plan = ask(cleaning, { tensileMPa: tensile.tensileMPa })
  if (!plan.ok) return plan
  const { acidSeconds } = design.coating
  const { acidMaxSeconds } = plan.output
  return acidSeconds > acidMaxSeconds
    ? { ok: false, because: `The design asks for ${acidSeconds} s in acid, its steel may have ${acidMaxSeconds} s.` }
    : { ok: true, minS: acidSeconds, maxS: acidMaxSeconds }
}

/**
 * The design's limit from nickel to chromium. Where moves and shortest soaks between them overrun it, no timetable can keep it: the
 * limit is then the least there is, and the finding says by how much it is missed.
 */
function transferOf(design: Design, tanks: readonly Tank[], { tanks: windows, loadedMoveS }: TimetableInput) {
  const fromTank = tanks.findIndex(({ purpose }) => purpose === 'nickel')
  const toTank = tanks.findIndex(({ purpose }) => purpose === 'chromium')
  const limit = design.coating.nickelToChromiumS?.limit
  if (fromTank < 0 || toTank <= fromTank || limit === undefined) return undefined
  const leastS =
    loadedMoveS.slice(fromTank, toTank).reduce((sum, s) => sum + s, 0) +
    windows.slice(fromTank + 1, toTank).reduce((sum, { minS }) => sum + minS, 0)
  return { fromTank, toTank, maxS: Math.max(limit, leastS) }
}

const timedLine = remembered((input: TimetableInput, tanks: readonly string[]): LinePlan => {
  const notices: string[] = []
  const answer = timetableAtOnce(input, (text) => notices.push(text))
  if (answer instanceof Refusal) return { ok: false, because: answer.issues.map(({ message }) => message).join(' ') }
  const { cycleS, transfers, loadsOnLine, proven } = answer
  const [transfer] = transfers
  return {
    ok: true,
    answer,
    input,
    tanks,
    ...(transfer === undefined ? {} : { nickelToChromiumS: transfer.takesS }),
    evidence: {
      calculation: timetable.id,
      input,
      working: `A load leaves the line every ${formatNumber(cycleS)} s, ${loadsOnLine} on it at a time${proven ? ', proven shortest' : ''}. ${timetable.working as string}`,
      sources: timetable.sources,
      notices,
    },
  }
}, 100)

/** What keeps the cycle from being shorter, in shop words. */
export function bottleneckOf({ answer, tanks }: Extract<LinePlan, { ok: true }>): string {
  const { cycleS, slowestTank, slowestTankS, carrierS } = answer
  const near = cycleS * 0.005
  if (cycleS - slowestTankS <= near) return tanks[slowestTank] ?? 'a tank'
  if (cycleS - carrierS <= near) return 'the carrier'
  return `${tanks[slowestTank] ?? 'a tank'} and the carrier's way together`
}
