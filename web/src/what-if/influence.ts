import { Design, type DesignDemand, type Finding, pathText, planDesign, read, type Works } from '@haspwright/engine'
import { type FigurePlace, figurePlaces, withFigure } from './figure-places.ts'

/** How strongly the margins of an operation answer to the figures of the design; strongest first. */
export type Influences = Readonly<Record<string, readonly Influence[]>>
export interface Influence {
  /** `barrel.recessDepth.nominalMm` */
  readonly path: string
  /** Largest change of a margin's share for the trial change of the figure. */
  readonly strength: number
}

/**
 * Finds out which figures the margins of each operation rest on, by trying: each figure of the design is changed a little, and what
 * moves rests on it. No list has to be kept, and none can be wrong.
 */
export function influences(design: Design, works: Works, demand: DesignDemand): Influences {
  const before = planDesign(design, works, demand).findings
  const found: Record<string, Influence[]> = {}
  for (const place of figurePlaces(design)) {
    const tried = trial(design, place)
    if (tried === undefined) continue
    const after = new Map(planDesign(tried, works, demand).findings.map((finding) => [finding.id, finding]))
    const strongest: Record<string, number> = {}
    for (const finding of before) {
      const change = changeOf(finding, after.get(finding.id))
      if (change > 0) strongest[finding.operation] = Math.max(strongest[finding.operation] ?? 0, change)
    }
    for (const [operation, strength] of Object.entries(strongest)) {
      found[operation] ??= []
      found[operation].push({ path: pathText(place.path), strength })
    }
  }
  for (const list of Object.values(found)) list.sort((a, b) => b.strength - a.strength || a.path.localeCompare(b.path))
  return found
}

/** The design with one figure moved by a hundredth of itself, up or else down; `undefined` where neither is a valid design. */
function trial(design: Design, { path, field, value }: FigurePlace): Design | undefined {
  const by = field.integer ? 1 : Math.abs(value) * 0.01 || 0.01
  for (const figure of [value + by, value - by]) {
    const reading = read(Design, withFigure(design, path, figure))
    if (reading.ok) return reading.value
  }
  return undefined
}

/** A change smaller than this is rounding, not influence. */
const ROUNDING = 1e-9

function changeOf(before: Finding, after: Finding | undefined): number {
  const pairs = [
    [before.marginShare, after?.marginShare],
    [before.marginShareLow, after?.marginShareLow],
    [before.marginShareHigh, after?.marginShareHigh],
    [before.limit ?? undefined, after?.limit ?? undefined],
  ] as const
  const largest = Math.max(...pairs.map(([a, b]) => (a === undefined || b === undefined ? 0 : Math.abs(a - b))))
  return largest > ROUNDING ? largest : 0
}
