import { borePasses } from '../bore-passes.ts'
import { boresOf } from '../bores.ts'
import type { Design } from '../design.ts'
import type { Works } from '../resources.ts'
import { type BoreFeature, type Box, type Clamping, type MachiningJob, SAFE_MM } from './machining-job.ts'
import { numberTools } from './number-tools.ts'

export type JobResult =
  | { readonly ok: true; readonly job: MachiningJob }
  | { readonly ok: false; readonly because: string }

/** Vice jaws stay this far below the upper face, and reach this far out (common practice). */
const JAW_BELOW_MM = 5
const JAW_REACH_MM = 60

/** All bores of a body, in four clampings: shackle end, key end, either side. */
export function drillingJob(design: Design, works: Works): JobResult {
  const { body } = design
  const made = boresOf(design).map((named) => ({ named, passes: borePasses(design, works, named) }))
  const failed = made.find(({ passes }) => !passes.ok)
  if (failed !== undefined) return { ok: false, because: failed.passes.ok ? '' : failed.passes.because }
  const { tools, toolOf } = numberTools(made.flatMap(({ passes }) => (passes.ok ? passes.passes : [])))
  const bore = (key: string, name: string, xMm: number): BoreFeature[] =>
    made.flatMap(({ named, passes }) =>
      named.key !== key || !passes.ok
        ? []
        : [
            {
              kind: 'bore',
              name,
              xMm,
              yMm: 0,
              diameterMm: passes.sizeMm,
              depthMm: depthLimits(named.bore.depthMm),
              passes: passes.passes.map((pass) => ({ tool: toolOf(pass), pecksMm: pass.pecksMm })),
            },
          ],
    )
  const axis = body.legAxisToBarrelAxis.nominalMm
  const height = body.height.nominalMm
  const upright = { x: [-body.widthMm / 2, body.widthMm / 2], heightMm: height } as const
  const lying = { x: [0, height], heightMm: body.widthMm } as const
  const clamp = (name: string, hold: string[], block: typeof upright | typeof lying, features: BoreFeature[]) =>
    clamping(design, works, { name, hold, block, features })
  const cross = bore('cross', 'Cross bore', body.crossBoreFromTopMm)
  const clampings = [
    clamp(
      'shackle end up',
      [
        'Key end down on parallels, jaws on the two faces, heel side at X minus',
        'X0 Y0 on the middle of the block, Z0 on the shackle end',
      ],
      upright,
      [...bore('heel', 'Heel bore', -axis), ...bore('toe', 'Toe bore', axis)],
    ),
    clamp(
      'key end up',
      ['Shackle end down on parallels, jaws on the two faces', 'X0 Y0 on the middle of the block, Z0 on the key end'],
      upright,
      bore('barrel', 'Barrel bore', 0),
    ),
    clamp(
      'heel side up',
      ['Toe side down on parallels, jaws on the two faces, shackle end at X0', 'Y0 on the middle, Z0 on the heel side'],
      lying,
      cross.map((feature) => ({ ...feature, name: 'Cross bore, heel side' })),
    ),
    clamp(
      'toe side up',
      ['Heel side down on parallels, jaws on the two faces, shackle end at X0', 'Y0 on the middle, Z0 on the toe side'],
      lying,
      cross.map((feature) => ({ ...feature, name: 'Cross bore, toe side' })),
    ),
  ]
  return {
    ok: true,
    job: {
      kind: 'drill-body',
      design: design.id,
      revision: design.revision,
      title: `Body ${design.id}: drill all bores`,
      material: body.material,
      tools,
      clampings,
      beware: [
        `Block ${body.widthMm} x ${body.thicknessMm} mm, faced to a height of ${height} mm`,
        ...breakThrough(tools, clampings),
        'The cross bores meet the shackle bores: the cut is interrupted, burrs stand in the bores; deburr and gauge again',
      ],
    },
  }
}

/** Depths carry no tolerance on the drawing: the medium class of general tolerances is taken (ISO 2768-m, from memory). */
function depthLimits(depthMm: number) {
  const off = depthMm <= 6 ? 0.1 : depthMm <= 30 ? 0.2 : depthMm <= 120 ? 0.3 : 0.5
  return { minMm: depthMm - off, maxMm: depthMm + off }
}

function clamping(
  { body: { thicknessMm } }: Design,
  works: Works,
  {
    name,
    hold,
    block: { x, heightMm },
    features,
  }: {
    name: string
    hold: readonly string[]
    block: { readonly x: readonly [number, number]; readonly heightMm: number }
    features: readonly BoreFeature[]
  },
): Clamping {
  const half = thicknessMm / 2
  const wide = [x[0] - JAW_REACH_MM, x[1] + JAW_REACH_MM] as const
  const under = -heightMm - JAW_REACH_MM
  return {
    name,
    hold,
    stock: [{ name: 'block', x, y: [-half, half], z: [-heightMm, 0] }],
    keepOut: [
      { name: 'front jaw', x: wide, y: [-half - JAW_REACH_MM, -half], z: [under, -JAW_BELOW_MM] },
      { name: 'back jaw', x: wide, y: [half, half + JAW_REACH_MM], z: [under, -JAW_BELOW_MM] },
      { name: 'parallels', x: wide, y: [-half, half], z: [under, -heightMm] },
    ],
    travel: travelOf(works, { x, heightMm }),
    features,
  }
}

/** The travel of the machine about the work; where the works does not state it, what the moves need, so that only runaways show. */
export function travelOf(
  { drill: { travelMm } }: Works,
  { x, heightMm }: { readonly x: readonly [number, number]; readonly heightMm: number },
): Box {
  const middle = (x[0] + x[1]) / 2
  const { x: X, y: Y, z: Z } = travelMm ?? { x: 2 * (x[1] - x[0]) + 100, y: 200, z: heightMm + 2 * SAFE_MM }
  return { name: 'travel', x: [middle - X / 2, middle + X / 2], y: [-Y / 2, Y / 2], z: [-heightMm, -heightMm + Z] }
}

function breakThrough(tools: MachiningJob['tools'], clampings: readonly Clamping[]): string[] {
  return clampings.flatMap(({ name, stock, features }) =>
    features.flatMap((feature) => {
      if (feature.kind !== 'bore') return []
      const tip = Math.max(
        ...feature.passes.map(
          (pass) => (pass.pecksMm.at(-1) ?? 0) + (tools.find((t) => t.number === pass.tool)?.pointMm ?? 0),
        ),
      )
      return tip > -(stock[0]?.z[0] ?? 0)
        ? [`${feature.name}, ${name}: the point comes through the far side; the parallels must lie clear of it`]
        : []
    }),
  )
}
