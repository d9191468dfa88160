import { drill } from '../body/drill.ts'
import { stepOf } from '../body/limits.ts'
import { TOLERANCE_STEPS_MM, TOLERANCES_UM } from '../body/limits-and-fits-table.ts'
import { peckDepthsMm } from '../body/pecks.ts'
import type { Evidence } from '../finding.ts'
import { cuttingClassOf } from '../materials/part-materials.ts'
import { ask } from './ask.ts'
import { gaugeFor, type NamedBore } from './bores.ts'
import type { Design } from './design.ts'
import type { Works } from './resources.ts'

/** One tool in one bore: what it is, how far it goes, how it turns. */
export interface BorePass {
  readonly kind: 'spot' | 'drill' | 'ream'
  readonly diameterMm: number
  /** Angle of the point; absent for a reamer, which has a lead at 45°. */
  readonly pointAngleDeg?: number
  /** Depth at full diameter; for the spot the depth of its point. */
  readonly depthMm: number
  /** What goes deeper than the full diameter: point or lead. */
  readonly pointMm: number
  readonly spindleRpm: number
  readonly feedMmPerRev: number
  readonly feedMmPerMin: number
  readonly minutes: number
  /** Depths at full diameter after each peck, the last is the depth. */
  readonly pecksMm: readonly number[]
  /** The load the drill takes; spot and reamer take less and are not computed. */
  readonly load?: { readonly torqueNm: number; readonly thrustN: number; readonly powerKw: number }
  readonly boresPerTool?: number
  readonly evidence: Evidence
}

export type BorePasses =
  | {
      readonly ok: true
      readonly sizeMm: { readonly minMm: number; readonly maxMm: number }
      readonly passes: readonly BorePass[]
    }
  | { readonly ok: false; readonly because: string }

/** A spot drill of 90°: it goes in by this share of the bore, 2 mm at most, at this feed (common practice). */
const SPOT = { diameterMm: 10, pointAngleDeg: 90, shareOfBore: 0.2, deepestMm: 2, feedMmPerRev: 0.08 } as const
/** Twist drills hold this grade at best; what is closer is reamed (common practice). */
const DRILLED_GRADE = '10'
/** Left on the diameter for the reamer, by size; its lead; its speed and feed against a drill's (common practice). */
const REAM = { leadMm: 1, speedShare: 0.35, feedShare: 1.5 } as const
const reamingAllowanceMm = (diameterMm: number) => (diameterMm <= 10 ? 0.2 : diameterMm <= 18 ? 0.25 : 0.3)
/** How a drill stands off before it feeds, mm; as body.drill counts it. */
export const STAND_OFF_MM = 2

/**
 * Tools that make a bore to its size before plating: a spot to place it, a drill, and a reamer where the tolerance left is closer
 * than a drill holds. The drill goes deeper by the reamer's lead, so that the full diameter reaches the depth asked for.
 */
export function borePasses(design: Design, works: Works, named: NamedBore): BorePasses {
  const material = cuttingClassOf(design.body.material)
  if (material === undefined) return { ok: false, because: `No cutting data are known for ${design.body.material}.` }
  const gauge = gaugeFor(design, named)
  if (!gauge.ok) return gauge
  const sizeMm = { minMm: gauge.output.machinedMinMm, maxMm: gauge.output.machinedMaxMm }
  const reamer = isReamed(sizeMm) ? Math.round(500 * (sizeMm.minMm + sizeMm.maxMm)) / 1000 : undefined
  const drillMm =
    reamer === undefined ? drillWithin(sizeMm) : Math.floor(10 * (reamer - reamingAllowanceMm(reamer)) + 1e-9) / 10
  const depthMm = named.bore.depthMm + (reamer === undefined ? 0 : REAM.leadMm)
  const { tool, maxRpm, toolLifeM } = works.drill
  const base = { material, tool, maxRpm }
  const spotDepthMm = Math.min(SPOT.deepestMm, SPOT.shareOfBore * drillMm)
  const spot = ask(drill, {
    ...base,
    diameterMm: SPOT.diameterMm,
    depthMm: spotDepthMm,
    pointAngleDeg: SPOT.pointAngleDeg,
    feedMmPerRev: SPOT.feedMmPerRev,
  })
  const drilled = ask(drill, {
    ...base,
    diameterMm: drillMm,
    depthMm,
    ...(toolLifeM === undefined ? {} : { toolLifeM }),
  })
  if (!spot.ok) return spot
  if (!drilled.ok) return drilled
  const { output } = drilled
  const turning = ({ spindleRpm, feedMmPerRev }: typeof output) => {
    const rpm = Math.floor(spindleRpm / 10) * 10 || spindleRpm // spindles are set in tens, never over the speed allowed
    return { spindleRpm: rpm, feedMmPerRev, feedMmPerMin: Math.floor(feedMmPerRev * rpm) || feedMmPerRev * rpm }
  }
  const set = turning(output)
  const reaming = turning({
    ...output,
    spindleRpm: output.spindleRpm * REAM.speedShare,
    feedMmPerRev: output.feedMmPerRev * REAM.feedShare,
  })
  return {
    ok: true,
    sizeMm,
    passes: [
      {
        kind: 'spot',
        diameterMm: SPOT.diameterMm,
        pointAngleDeg: SPOT.pointAngleDeg,
        depthMm: spotDepthMm,
        pointMm: 0,
        ...turning(spot.output),
        minutes: (spotDepthMm + STAND_OFF_MM) / turning(spot.output).feedMmPerMin,
        pecksMm: [spotDepthMm],
        evidence: spot.evidence,
      },
      {
        kind: 'drill',
        diameterMm: drillMm,
        pointAngleDeg: drilled.input.pointAngleDeg ?? 118,
        depthMm,
        pointMm: output.approachMm,
        ...set,
        minutes: output.minutes,
        pecksMm: peckDepthsMm({ diameterMm: drillMm, depthMm }),
        load: { torqueNm: output.torqueNm, thrustN: output.thrustN, powerKw: output.powerKw },
        ...(output.boresPerTool === undefined ? {} : { boresPerTool: output.boresPerTool }),
        evidence: drilled.evidence,
      },
      ...(reamer === undefined
        ? []
        : [
            {
              kind: 'ream',
              diameterMm: reamer,
              depthMm: named.bore.depthMm,
              pointMm: REAM.leadMm,
              ...reaming,
              minutes: (2 * (depthMm + STAND_OFF_MM)) / reaming.feedMmPerMin, // in and out under feed
              pecksMm: [named.bore.depthMm],
              evidence: drilled.evidence,
            } as const,
          ]),
    ],
  }
}

function isReamed({ minMm, maxMm }: { minMm: number; maxMm: number }): boolean {
  const gradeUm = TOLERANCES_UM[DRILLED_GRADE]?.[stepOf(TOLERANCE_STEPS_MM, maxMm)] ?? 0
  return (maxMm - minMm) * 1000 < gradeUm - 1e-6
}

/** The roundest drill size in the lower half of the limits: a drill cuts over its size, never under. */
function drillWithin({ minMm, maxMm }: { minMm: number; maxMm: number }): number {
  const middle = (minMm + maxMm) / 2
  for (const step of [10, 20, 100]) {
    const size = Math.ceil(minMm * step - 1e-9) / step
    if (size <= middle) return size
  }
  return Math.round(middle * 1000) / 1000
}
