import type { BorePass } from '../bore-passes.ts'
import type { CuttingTool } from './machining-job.ts'

/** Gives every different tool a number: spot drill first, then drills and reamers as they come. The slowest setting of a tool holds. */
export function numberTools(passes: readonly BorePass[]): {
  tools: CuttingTool[]
  toolOf: (pass: BorePass) => number
} {
  const key = ({ kind, diameterMm }: BorePass) => `${kind} ${diameterMm}`
  const kinds = [
    ...new Set(
      passes
        .filter(({ kind }) => kind === 'spot')
        .concat(passes)
        .map(key),
    ),
  ]
  const tools = kinds.map((which, i): CuttingTool => {
    const same = passes.filter((pass) => key(pass) === which)
    const [first] = same
    if (first === undefined) throw new Error(`No pass uses the tool ${which}.`)
    const { kind, diameterMm, pointAngleDeg, pointMm, boresPerTool } = first
    return {
      number: i + 1,
      kind,
      diameterMm,
      ...(pointAngleDeg === undefined ? {} : { pointAngleDeg }),
      pointMm,
      spindleRpm: Math.min(...same.map((pass) => pass.spindleRpm)),
      feedMmPerMin: Math.min(...same.map((pass) => pass.feedMmPerMin)),
      ...(boresPerTool === undefined ? {} : { boresPerTool: Math.min(...same.map((pass) => pass.boresPerTool ?? 0)) }),
    }
  })
  return { tools, toolOf: (pass) => kinds.indexOf(key(pass)) + 1 }
}
