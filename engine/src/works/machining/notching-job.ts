import type { DrillMaterial } from '../../materials/cutting-data.ts'
import { cuttingClassOf } from '../../materials/part-materials.ts'
import type { Design } from '../design.ts'
import { limitsOf } from '../dimension.ts'
import { halfNotchMm } from '../notch.ts'
import type { Works } from '../resources.ts'
import { type JobResult, travelOf } from './drilling-job.ts'
import { type Clamping, type CuttingTool, RETURN_MM } from './machining-job.ts'

/** Cutting speed of an end mill in annealed steel, m/min, teeth and feed a tooth: starting values (common practice). */
const SPEED: Readonly<Record<DrillMaterial, number>> = { 'high-speed-steel': 25, carbide: 90 }
const TEETH = 4
const feedPerToothMm = (diameterMm: number) => Math.min(0.05, 0.004 * diameterMm)
/** How far the cutter stands out under the leg, and how far the table of the fixture lies below that. */
const UNDER_MM = 1
const FIXTURE_BELOW_MM = 3
/** Straps hold the leg this far from the cutter, and stand this high. */
const STRAP_OFF_MM = 8
const STRAP_HIGH_MM = 12

/** What the cutter turns and feeds at, slotting at its whole chord. */
export function notchCutter(design: Design, works: Works): CuttingTool {
  const d = design.shackle.notch.cutterDiameterMm
  const rpm = Math.min((1000 * SPEED[works.drill.tool]) / (Math.PI * d), works.drill.maxRpm)
  const spindleRpm = Math.floor(rpm / 10) * 10 || rpm
  return {
    number: 1,
    kind: 'end-mill',
    diameterMm: d,
    pointMm: 0,
    spindleRpm,
    feedMmPerMin: Math.floor(TEETH * feedPerToothMm(d) * spindleRpm) || 1,
  }
}

/**
 * The notches of a bent shackle, one clamping for each leg: the width between the legs scatters far more than a notch may be deep,
 * so that each leg is laid with its own inner face on the pins of the fixture, and the cutter takes the depth from there.
 */
export function notchingJob(design: Design, works: Works): JobResult {
  const { shackle } = design
  const { notch } = shackle
  if (cuttingClassOf(shackle.steel) === undefined)
    return { ok: false, because: `No cutting data are known for ${shackle.steel}.` }
  const tool = notchCutter(design, works)
  const narrowest = limitsOf(shackle.insideWidth).minMm
  if (narrowest < tool.diameterMm + 2 * RETURN_MM)
    return {
      ok: false,
      because: `A cutter of ${tool.diameterMm} mm does not stand free between legs ${narrowest} mm apart: it needs ${tool.diameterMm + 2 * RETURN_MM} mm.`,
    }
  const legs = [
    { leg: 'toe leg', longMm: shackle.toeLegMm, xMm: notch.fromToeEndMm },
    {
      leg: 'heel leg',
      longMm: shackle.heelLegMm,
      xMm: notch.fromToeEndMm + shackle.heelLegMm - shackle.toeLegMm,
    },
  ].slice(0, notch.legs === 'both' ? 2 : 1)
  return {
    ok: true,
    job: {
      kind: 'notch-shackle',
      design: design.id,
      revision: design.revision,
      title: `Shackle ${design.id}: mill ${notch.legs === 'both' ? 'both notches' : 'the notch of the toe leg'}`,
      material: shackle.steel,
      tools: [tool],
      clampings: legs.map((each) => legClamping(design, works, { ...each, tool })),
      beware: [
        'Bent, not hardened: hardened steel breaks the cutter',
        'The cutter goes under the leg: the fixture is open below the notch',
        'Measure the first notch from the inner face of the leg before the next part is clamped',
      ],
    },
  }
}

function legClamping(
  { shackle }: Design,
  works: Works,
  { leg, longMm, xMm, tool }: { leg: string; longMm: number; xMm: number; tool: CuttingTool },
): Clamping {
  const d = shackle.barDiameter.nominalMm
  const { minMm: width } = limitsOf(shackle.insideWidth)
  const otherMm = leg === 'toe leg' ? shackle.heelLegMm : shackle.toeLegMm
  const bow = longMm + shackle.insideWidth.nominalMm / 2 + d
  const tipMm = -d - UNDER_MM
  const radius = tool.diameterMm / 2
  const strapX = xMm + Math.max(radius, halfNotchMm(shackle.notch)) + STRAP_OFF_MM
  const long = [-50, bow + 50] as const
  return {
    name: leg,
    hold: [
      `Shackle flat, inner face of the ${leg} on the pins, its end on the stop, bow at X plus, the leg at Y plus`,
      `X0 on the end of the ${leg}, Y0 on its inner face, Z0 on top of the bar`,
    ],
    stock: [
      { name: leg, x: [0, longMm], y: [0, d], z: [-d, 0] },
      { name: 'other leg', x: [longMm - otherMm, longMm], y: [-width - d, -width], z: [-d, 0] },
      { name: 'bow', x: [longMm, bow], y: [-width - d, d], z: [-d, 0] },
    ],
    keepOut: [
      { name: 'strap', x: [Math.min(strapX, longMm), longMm], y: [0, d], z: [-d, STRAP_HIGH_MM] },
      { name: 'fixture', x: long, y: [-width - 60, d + 60], z: [-d - 60, tipMm - FIXTURE_BELOW_MM] },
    ],
    travel: travelOf(works, { x: [0, bow], heightMm: d + UNDER_MM }),
    features: [
      {
        kind: 'notch',
        name: `Notch, ${leg}`,
        tool: tool.number,
        xMm,
        depthMm: { ...limitsOf(shackle.notch.depth), nominalMm: shackle.notch.depth.nominalMm },
        tipMm,
        freeYMm: -width / 2,
      },
    ],
  }
}
