/**
 * What a machine program has to do, without its moves: blocks as clamped, tools with their limits, bores and notches with the
 * sizes before plating. The program is written from it; what a program really does is held against it.
 *
 * Every clamping has its own zero. X and Y lie in the table, Z points out of the work, zero at its upper face. All in mm.
 */
export interface MachiningJob {
  readonly kind: 'drill-body' | 'notch-shackle'
  readonly design: string
  readonly revision: string
  readonly title: string
  readonly material: string
  readonly tools: readonly CuttingTool[]
  readonly clampings: readonly Clamping[]
  /** What is to be seen before anything turns, beside what holds for every program. */
  readonly beware: readonly string[]
}

export interface CuttingTool {
  readonly number: number
  readonly kind: 'spot' | 'drill' | 'ream' | 'end-mill'
  readonly diameterMm: number
  readonly pointAngleDeg?: number
  /** From the tip up to the full diameter: point, lead, nothing for an end mill. */
  readonly pointMm: number
  /** Speed and feed it is to run at; the check takes no more than these. */
  readonly spindleRpm: number
  readonly feedMmPerMin: number
  /** Bores it lasts for, where the shop knows its life. */
  readonly boresPerTool?: number
}

export interface Box {
  readonly name: string
  readonly x: readonly [from: number, to: number]
  readonly y: readonly [from: number, to: number]
  readonly z: readonly [from: number, to: number]
}

export interface Clamping {
  readonly name: string
  /** How the work is held, and where zero is, for who clamps it. */
  readonly hold: readonly string[]
  readonly stock: readonly Box[]
  /** Jaws, straps, table: no tool may come near them. */
  readonly keepOut: readonly Box[]
  /** Where tool tips may go at all. */
  readonly travel: Box
  readonly features: readonly Feature[]
}

export type Feature = BoreFeature | NotchFeature

interface Range {
  readonly minMm: number
  readonly maxMm: number
}

export interface BoreFeature {
  readonly kind: 'bore'
  readonly name: string
  readonly xMm: number
  readonly yMm: number
  /** Size to machine to. */
  readonly diameterMm: Range
  /** Depth at full diameter. */
  readonly depthMm: Range
  readonly passes: readonly { readonly tool: number; readonly pecksMm: readonly number[] }[]
}

/** A notch milled into the face y = 0 of a leg that lies above it in Y, by a cutter that comes from the free side. */
export interface NotchFeature {
  readonly kind: 'notch'
  readonly name: string
  readonly tool: number
  /** Middle of the notch along the leg. */
  readonly xMm: number
  readonly depthMm: Range & { readonly nominalMm: number }
  /** Z of the tip: under the leg. */
  readonly tipMm: number
  /** Where the cutter stands free of both legs, in Y. */
  readonly freeYMm: number
}

/** Height over the work at which tools are moved across, and at which they begin to feed. */
export const SAFE_MM = 50
export const START_MM = 2
/** How far a drill that comes back stays off the bottom it left; a cutter off the face. */
export const RETURN_MM = 1
/** A program holds the place it is given: half a hundredth, a rounding of its figures. */
export const PLACE_MM = 0.005

/** Where the program of a job goes among the papers of a plan. */
export function programFile({ design, kind }: Pick<MachiningJob, 'design' | 'kind'>): string {
  return `programs/${design}-${kind}.nc`
}
