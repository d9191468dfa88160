import {
  type BoreFeature,
  type CuttingTool,
  type MachiningJob,
  type NotchFeature,
  RETURN_MM,
  SAFE_MM,
  START_MM,
} from '@haspwright/engine'
import { BlockWriter } from './block-writer.ts'

const TOOL_NAMES: Readonly<Record<CuttingTool['kind'], string>> = {
  spot: 'spot drill',
  drill: 'twist drill',
  ream: 'reamer',
  'end-mill': 'end mill, need not cut over its centre',
}

/** What holds for every program, before a spindle turns. Local practice and the makers' instructions come before it. */
const BEFORE_IT_RUNS = [
  'NOT PROVED ON ANY MACHINE. LOCAL PRACTICE AND THE BOOKS OF MACHINE AND CONTROL COME FIRST',
  'SEE THAT BEFORE IT RUNS:',
  '- guards closed, no gloves, eyes covered, nobody but the setter at the machine',
  '- work clamped as said at each clamping, pulled at by hand, jaws and straps clear of every path',
  '- stock as said, faced, free of burrs, right way round',
  '- zero set as said at each clamping',
  '- length of every tool set in the control and taken with M6; a control that wants a call of its own for it gets that call put in behind each M6, or the tool is driven into the work',
  '- every tool the one named, sharp, running true, long enough for its depth',
  '- coolant on the cut; chips cleared with a hook, never by hand',
  '- metric is G71, as ISO 6983 has it: a control that knows G21 instead gets G21',
  '- first run dry, 50 mm above the work; second in single block, rapid and feed turned down; third the first part, then gauge it',
]

/**
 * A program of ISO 6983 for a machining job. Only words of the standard are used, and every peck is written out as moves: canned
 * cycles mean different things on different controls (where they return to, what R and Q count from), moves mean the same on all,
 * and what is replayed in the check is then what the machine does.
 */
export function programText(job: MachiningJob): string {
  const out = new BlockWriter()
  header(out, job)
  out.block({ G: [17, 40, 71, 80, 90, 94] })
  job.clampings.forEach((clamping, i) => {
    out.comment(`CLAMPING ${i + 1} OF ${job.clampings.length}: ${clamping.name}`)
    for (const line of clamping.hold) out.comment(`  ${line}`)
    out.block({ M: 0 })
    for (const tool of job.tools) {
      const uses = clamping.features.flatMap((feature) => usesOf(feature, tool))
      if (uses.length === 0) continue
      takeTool(out, tool)
      for (const write of uses) write(out)
      out.block({ M: [5, 9] })
    }
  })
  out.block({ M: 30 })
  return `${out.text()}%\n`
}

function header(out: BlockWriter, job: MachiningJob): void {
  out.comment(`${job.title}, revision ${job.revision}`)
  out.comment(`Material ${job.material}. Sizes before plating, in mm. Words of ISO 6983`)
  for (const line of BEFORE_IT_RUNS) out.comment(line)
  for (const line of job.beware) out.comment(`- ${line}`)
  for (const tool of job.tools) {
    const point = tool.pointAngleDeg === undefined ? '' : `, point ${tool.pointAngleDeg} deg`
    const life = tool.boresPerTool === undefined ? '' : `, change after ${tool.boresPerTool} bores`
    out.comment(`T${tool.number} ${TOOL_NAMES[tool.kind]} ${tool.diameterMm} mm${point}${life}`)
  }
}

function takeTool(out: BlockWriter, tool: CuttingTool): void {
  out.comment(`T${tool.number} ${TOOL_NAMES[tool.kind]} ${tool.diameterMm} mm`)
  out.block({ T: tool.number, M: 6 })
  out.block({ S: tool.spindleRpm, M: 3 })
  out.block({ G: 0, Z: SAFE_MM })
  out.block({ M: 8 })
}

type Use = (out: BlockWriter) => void

/** What a tool does at a feature of a clamping; nothing where it does not take part. */
function usesOf(feature: BoreFeature | NotchFeature, tool: CuttingTool): Use[] {
  if (feature.kind === 'notch') return feature.tool === tool.number ? [(out) => writeNotch(out, feature, tool)] : []
  return feature.passes
    .filter((pass) => pass.tool === tool.number)
    .map(
      ({ pecksMm }): Use =>
        (out) =>
          writeBore(out, { feature, tool, pecksMm }),
    )
}

function writeBore(
  out: BlockWriter,
  { feature, tool, pecksMm }: { feature: BoreFeature; tool: CuttingTool; pecksMm: readonly number[] },
): void {
  out.comment(feature.name)
  out.block({ G: 0, X: feature.xMm, Y: feature.yMm })
  out.block({ G: 0, Z: START_MM })
  pecksMm.forEach((depthMm, i) => {
    const before = pecksMm[i - 1]
    if (before !== undefined) {
      out.block({ G: 0, Z: START_MM })
      out.block({ G: 0, Z: RETURN_MM - before - tool.pointMm })
    }
    out.block({ G: 1, Z: -depthMm - tool.pointMm, F: tool.feedMmPerMin })
  })
  // A reamer comes out under feed: drawn out in rapid it scores the wall.
  if (tool.kind === 'ream') out.block({ G: 1, Z: START_MM })
  out.block({ G: 0, Z: SAFE_MM })
}

function writeNotch(out: BlockWriter, feature: NotchFeature, tool: CuttingTool): void {
  const radius = tool.diameterMm / 2
  out.comment(`${feature.name}, ${feature.depthMm.nominalMm} mm deep`)
  out.block({ G: 0, X: feature.xMm, Y: feature.freeYMm })
  out.block({ G: 0, Z: feature.tipMm })
  out.block({ G: 1, Y: feature.depthMm.nominalMm - radius, F: tool.feedMmPerMin })
  out.block({ G: 1, Y: -radius - RETURN_MM })
  out.block({ G: 0, Y: feature.freeYMm })
  out.block({ G: 0, Z: SAFE_MM })
}
