import type { Clamping, CuttingTool, Issue, MachiningJob } from '@haspwright/engine'
import { type Cut, meets, type Point, runsIn, type Way } from './clearance.ts'
import { blockName } from './parse-program.ts'
import type { Move, Place } from './replay.ts'

/** In rapid a tool keeps this far from everything solid; under feed from jaws, straps and table. */
const CLEARANCE_MM = 0.5
/** A twist drill goes in one up to so many diameters; a longer peck than the job's packs the flutes. */
const PECK_MM = 0.001

/** What was cut, by which tool, in which block. */
export interface CutBy extends Cut {
  readonly tool: CuttingTool
  readonly block: Move['block']
  /** Names of the solids it went into. */
  readonly into: readonly string[]
  /** Deeper at once than it stood free before. */
  readonly biteMm: number
}

/**
 * Follows all moves of one clamping through its blocks, jaws and what is cut away meanwhile.
 *
 * @returns every move that would hurt, and everything that was cut
 */
export function checkMoves(
  moves: readonly Move[],
  clamping: Clamping,
  { tools }: Pick<MachiningJob, 'tools'>,
): { issues: Issue[]; cuts: CutBy[] } {
  const run = new Run(clamping, tools)
  for (const move of moves) run.follow(move)
  return run
}

class Run {
  readonly issues: Issue[] = []
  readonly cuts: CutBy[] = []
  private readonly highest: number

  constructor(
    private readonly clamping: Clamping,
    private readonly tools: readonly CuttingTool[],
  ) {
    this.highest = Math.max(...[...clamping.stock, ...clamping.keepOut].map(({ z }) => z[1]))
  }

  follow(move: Move): undefined {
    this.withinTravel(move)
    const tool = this.tools.find(({ number }) => number === move.tool)
    if (move.tool === null) return this.complain(move, 'moves before any tool is called (T and M6 are missing).')
    if (tool === undefined) return this.complain(move, `moves with tool T${move.tool}, which this job does not know.`)
    const ends = known(move)
    if (ends === null) return this.followBlind(move)
    const way: Way = { ...ends, radiusMm: tool.diameterMm / 2 }
    for (const box of this.clamping.keepOut)
      if (meets(way, box, CLEARANCE_MM) !== null)
        this.complain(move, `brings the tool within ${CLEARANCE_MM} mm of the ${box.name}.`)
    if (move.kind === 'rapid') this.rapid(move, way, tool)
    else this.feed(move, way, tool)
  }

  private complain({ block }: Move, what: string): undefined {
    this.issues.push({
      path: blockName(block),
      code: 'contradiction',
      message: `${this.clamping.name}: this block ${what}`,
    })
  }

  private withinTravel(move: Move): undefined {
    const { travel } = this.clamping
    for (const axis of ['x', 'y', 'z'] as const) {
      const value = move.to[axis]
      const [low, high] = travel[axis]
      if (value !== null && (value < low || value > high))
        this.complain(move, `goes to ${axis.toUpperCase()}${value}, outside the travel of ${low} to ${high}.`)
    }
  }

  /** After a change of tool or work the height comes first, over everything; then the place. */
  private followBlind(move: Move): undefined {
    const { to } = move
    if (move.kind === 'feed') return this.complain(move, 'feeds from a place that the program has not said.')
    if (to.z === null) return this.complain(move, 'goes across before the program has said how high the tool stands.')
    if (to.z < this.highest + CLEARANCE_MM)
      this.complain(move, `goes down to Z${to.z} before the program has said where the tool stands.`)
  }

  private rapid(move: Move, way: Way, tool: CuttingTool): undefined {
    for (const box of this.clamping.stock) {
      const near = meets(way, box, CLEARANCE_MM)
      if (near === null || this.isFree(near, tool)) continue
      this.complain(
        move,
        `goes in rapid through the ${box.name}, or within ${CLEARANCE_MM} mm of it, at Z${figure(Math.min(near.from.z, near.to.z))}.`,
      )
    }
  }

  /** A tool that made a hole fits its bottom; another only what stands at full diameter. */
  private isFree(way: Way, tool: CuttingTool, clearanceMm = CLEARANCE_MM): boolean {
    return this.cuts.some((cut) => {
      if (cut.tool.number === tool.number) return runsIn(way, cut, clearanceMm)
      return cut.tool.kind !== 'spot' && runsIn(way, { ...cut, bottomMm: cut.bottomMm + cut.tool.pointMm }, clearanceMm)
    })
  }

  private feed(move: Move, way: Way, tool: CuttingTool): undefined {
    const into = this.clamping.stock.filter((box) => meets(way, box, 0) !== null)
    if (move.feedMmPerMin <= 0) this.complain(move, 'feeds, and no F says how fast.')
    if (into.length === 0) return
    if (move.feedMmPerMin > tool.feedMmPerMin + 1e-6)
      this.complain(
        move,
        `feeds T${tool.number} at ${figure(move.feedMmPerMin)} mm/min; it takes ${figure(tool.feedMmPerMin)}.`,
      )
    if (move.spindleRpm <= 0)
      this.complain(
        move,
        move.spindleRpm === 0
          ? 'feeds into the work with the spindle standing.'
          : 'cuts with the spindle turning the wrong way.',
      )
    else if (move.spindleRpm > tool.spindleRpm + 1e-6)
      this.complain(
        move,
        `turns T${tool.number} at ${figure(move.spindleRpm)} 1/min; it takes ${figure(tool.spindleRpm)}.`,
      )
    if (this.isFree(way, tool, 0)) return
    const isStraightDown = way.from.x === way.to.x && way.from.y === way.to.y
    if (tool.kind === 'end-mill' && isStraightDown)
      this.complain(move, 'plunges an end mill that need not cut over its centre.')
    if (tool.kind !== 'end-mill' && !isStraightDown)
      this.complain(move, `moves T${tool.number}, which only cuts downward, sideways in the work.`)
    if (tool.kind === 'ream' && !this.isDrilledFor(way, tool))
      this.complain(move, 'reams where nothing was drilled for it, or not deep enough.')
    const bottomMm = Math.min(way.from.z, way.to.z)
    this.cuts.push({
      from: way.from,
      to: way.to,
      radiusMm: way.radiusMm,
      bottomMm,
      tool,
      block: move.block,
      into: into.map(({ name }) => name),
      biteMm: isStraightDown ? this.freeAbove(way, tool) - bottomMm : 0,
    })
  }

  /** Lowest point at this place that the tool stands free at. */
  private freeAbove({ to, radiusMm }: Way, tool: CuttingTool): number {
    const same = this.cuts.filter(
      (cut) => cut.tool.number === tool.number && Math.hypot(cut.to.x - to.x, cut.to.y - to.y) < radiusMm,
    )
    return Math.min(-tool.pointMm, ...same.map(({ bottomMm }) => bottomMm))
  }

  private isDrilledFor(way: Way, tool: CuttingTool): boolean {
    const depth = Math.min(way.from.z, way.to.z)
    return this.cuts.some(
      (cut) =>
        cut.tool.kind === 'drill' &&
        cut.radiusMm >= way.radiusMm * 0.9 &&
        cut.radiusMm < way.radiusMm &&
        cut.bottomMm + cut.tool.pointMm <= depth + PECK_MM &&
        Math.hypot(cut.to.x - way.to.x, cut.to.y - way.to.y) <= tool.diameterMm / 100,
    )
  }
}

function known({ from, to }: Move): { from: Point; to: Point } | null {
  return isPoint(from) && isPoint(to) ? { from, to } : null
}

const isPoint = (place: Place): place is Point => place.x !== null && place.y !== null && place.z !== null

export const figure = (value: number) => `${Number(value.toFixed(3))}`
