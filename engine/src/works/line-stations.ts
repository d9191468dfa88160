import { formatNumber } from '../display.ts'
import { cleaning } from '../finish/cleaning.ts'
import { deposit } from '../finish/deposit.ts'
import type { TimetableInput } from '../finish/timetable/schemas.ts'
import { movesOnTrack } from '../finish/timetable/track-moves.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { hydrogenStrength } from './parts.ts'
import { bathOf } from './rack-load.ts'
import type { PlatingLine } from './resources.ts'

type Tank = PlatingLine['tanks'][number]

/** A station that the racks of a design visit, and where its soak window comes from. */
export interface LineStation {
  readonly name: string
  readonly purpose: Tank['purpose']
  readonly from: string
}

/** What the timetable of a line is asked for one design. */
export type LineQuestion =
  | { readonly ok: true; readonly input: TimetableInput; readonly stations: readonly LineStation[] }
  | { readonly ok: false; readonly because: string }

/** Orders tried for a plan: a line of a dozen tanks needs a few hundred. */
const MOST_NODES = 4000

/** The stations of a line that a design's racks visit, each with its soak window, and the moves between them. */
export function lineQuestion(design: Design, line: PlatingLine): LineQuestion {
  const tanks = line.tanks.filter(({ purpose }) => visited(design, purpose))
  const windows: Window[] = []
  for (const tank of tanks) {
    const window = windowOf(design, line, tank)
    if (!window.ok) return window
    windows.push(window)
  }
  const { hoists, gapM, speedMPerS, liftS, lowerS } = line
  const track = { placesM: tanks.map(({ atM }) => atM), gapM, speedMPerS, liftS, lowerS }
  const input = {
    tanks: tanks.map(({ name, places = 1 }, i) => ({
      name,
      minS: windows[i]?.minS ?? 0,
      maxS: windows[i]?.maxS ?? null,
      places,
    })),
    ...movesOnTrack(track),
    track,
    hoists,
    mostNodes: MOST_NODES,
  }
  const transfer = transferOf(design, tanks, input)
  return {
    ok: true,
    input: { ...input, ...(transfer === undefined ? {} : { transferLimits: [transfer] }) },
    stations: tanks.map(({ name, purpose }, i) => ({ name, purpose, from: windows[i]?.from ?? '' })),
  }
}

function visited({ coating: { layers } }: Design, purpose: Tank['purpose']): boolean {
  if (purpose === 'nickel') return layers.some(({ metal }) => metal === 'nickel')
  if (purpose === 'chromium') return layers.some(({ metal }) => metal.startsWith('chromium'))
  return true
}

interface Window {
  readonly minS: number
  readonly maxS: number | null
  readonly from: string
}
type Unknown = { readonly ok: false; readonly because: string }

function windowOf(design: Design, line: PlatingLine, tank: Tank): (Window & { readonly ok: true }) | Unknown {
  const { purpose, name, minS, maxS = null } = tank
  if (purpose === 'acid') return acidWindow(design)
  if (purpose !== 'nickel' && purpose !== 'chromium')
    return { ok: true, minS: minS ?? 0, maxS, from: minS === undefined ? 'no least stated by the works' : 'the works' }
  const layer = design.coating.layers.find(({ metal }) => metal.startsWith(purpose))
  if (layer === undefined) return { ok: false, because: `The design has no layer for ${name}.` }
  // Time does not depend on the area: current rises with it.
  const plated = ask(deposit, { ...bathOf(layer), areaDm2: 1 })
  if (!plated.ok) return plated
  const leastS = Math.ceil(plated.output.minutes * 60) // a timer is set to whole seconds
  const mostS = Math.floor(leastS * (1 + line.overPlatePercent / 100))
  const { meanUm, currentDensityAPerDm2 } = layer
  return {
    ok: true,
    minS: leastS,
    maxS: Math.max(leastS, mostS),
    from: `${formatNumber(meanUm)} µm at ${formatNumber(currentDensityAPerDm2)} A/dm²; at most ${formatNumber(line.overPlatePercent)} % longer`,
  }
}

/** From the time that the design asks for up to what its hard steel may take. */
function acidWindow(design: Design): (Window & { readonly ok: true }) | Unknown {
  const tensile = hydrogenStrength(design)
  if (!tensile.ok) return tensile
  const plan = ask(cleaning, { tensileMPa: tensile.tensileMPa })
  if (!plan.ok) return plan
  const { acidSeconds } = design.coating
  const { acidMaxSeconds } = plan.output
  return acidSeconds > acidMaxSeconds
    ? { ok: false, because: `The design asks for ${acidSeconds} s in acid, its steel may have ${acidMaxSeconds} s.` }
    : {
        ok: true,
        minS: acidSeconds,
        maxS: acidMaxSeconds,
        from: `the design; at most what steel of ${formatNumber(tensile.tensileMPa, 3)} MPa may take`,
      }
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
