import {
  type BoreFeature,
  type Clamping,
  type Feature,
  type Issue,
  type MachiningJob,
  type NotchFeature,
  PLACE_MM,
} from '@haspwright/engine'
import { type CutBy, figure } from './check-moves.ts'
import { blockName } from './parse-program.ts'

/** What the program really makes of a bore or notch, for the report. */
export interface MadeFeature {
  readonly clamping: string
  readonly feature: string
  readonly xMm: number
  readonly yMm: number
  /** Diameter of a bore; of the cutter for a notch. */
  readonly diameterMm: number
  readonly depthMm: number
}

/** How far a wrong hole may lie from where it belongs and still be taken for it. */
const MISTAKEN_MM = 10

/** Holds what was cut in a clamping against what belongs there: everything at its place, size and depth, and nothing else. */
export function checkFeatures(
  clamping: Clamping,
  cuts: readonly CutBy[],
  { tools }: Pick<MachiningJob, 'tools'>,
): { issues: Issue[]; made: MadeFeature[] } {
  const issues: Issue[] = []
  const made: MadeFeature[] = []
  const claimed = new Set<CutBy>()
  for (const feature of clamping.features) {
    const say = (message: string, allowed?: string) =>
      issues.push({
        path: `${clamping.name}: ${feature.name}`,
        code: 'out-of-range',
        message,
        ...(allowed === undefined ? {} : { allowed }),
      })
    const own = cuts.filter((cut) => belongsTo(cut, feature))
    for (const cut of own) claimed.add(cut)
    const found =
      feature.kind === 'bore' ? checkBore(feature, own, { cuts, tools, say }) : checkNotch(feature, own, say)
    if (found !== undefined) made.push({ clamping: clamping.name, feature: feature.name, ...found })
  }
  for (const cut of cuts)
    if (!claimed.has(cut))
      issues.push({
        path: blockName(cut.block),
        code: 'contradiction',
        message: `${clamping.name}: T${cut.tool.number} cuts into the ${cut.into.join(' and the ')} at X${figure(cut.to.x)} Y${figure(cut.to.y)}, where nothing belongs.`,
      })
  return { issues, made }
}

type Say = (message: string, allowed?: string) => void
type Found = Omit<MadeFeature, 'clamping' | 'feature'>

function belongsTo(cut: CutBy, feature: Feature): boolean {
  if (feature.kind === 'notch')
    return (
      cut.tool.number === feature.tool &&
      Math.abs(cut.to.x - feature.xMm) <= PLACE_MM &&
      Math.abs(cut.from.x - feature.xMm) <= PLACE_MM
    )
  return Math.hypot(cut.to.x - feature.xMm, cut.to.y - feature.yMm) <= PLACE_MM
}

function checkBore(
  feature: BoreFeature,
  own: readonly CutBy[],
  { cuts, tools, say }: { cuts: readonly CutBy[]; tools: MachiningJob['tools']; say: Say },
): Found | undefined {
  if (own.length === 0) return missingHole(feature, cuts, say)
  for (const { tool } of feature.passes)
    if (!own.some((cut) => cut.tool.number === tool)) {
      const name = tools.find(({ number }) => number === tool)
      say(
        `Tool T${tool} (${name?.kind ?? ''} ${name?.diameterMm ?? ''} mm) never cuts here: it was not called, or not brought in.`,
      )
    }
  const [last] = own.filter((cut) => cut.tool.kind !== 'spot').sort((a, b) => b.radiusMm - a.radiusMm)
  if (last === undefined) return undefined
  const diameterMm = 2 * last.radiusMm
  const { minMm, maxMm } = feature.diameterMm
  if (diameterMm < minMm - 1e-9 || diameterMm > maxMm + 1e-9)
    say(`The bore comes out at ${figure(diameterMm)} mm.`, `${figure(minMm)} to ${figure(maxMm)} mm`)
  const depthMm = Math.max(
    ...own.filter((cut) => cut.tool.number === last.tool.number).map((cut) => -cut.bottomMm - cut.tool.pointMm),
  )
  if (depthMm < feature.depthMm.minMm - 1e-9 || depthMm > feature.depthMm.maxMm + 1e-9)
    say(
      `The bore is ${figure(depthMm)} mm deep at full diameter.`,
      `${figure(feature.depthMm.minMm)} to ${figure(feature.depthMm.maxMm)} mm`,
    )
  checkSpot(feature, own, say)
  checkPecks(feature, own, say)
  return { xMm: last.to.x, yMm: last.to.y, diameterMm, depthMm }
}

function missingHole({ xMm, yMm }: BoreFeature, cuts: readonly CutBy[], say: Say): undefined {
  const place = `X${figure(xMm)} Y${figure(yMm)}`
  const [near] = cuts
    .map((cut) => ({ cut, off: Math.hypot(cut.to.x - xMm, cut.to.y - yMm) }))
    .filter(({ off }) => off < MISTAKEN_MM)
    .sort((a, b) => a.off - b.off)
  const where =
    near === undefined
      ? 'nothing is drilled near it'
      : `the nearest hole is at X${figure(near.cut.to.x)} Y${figure(near.cut.to.y)}, ${figure(near.off)} mm off`
  say(`There is no hole at ${place}: ${where}.`, `${place}, within ${PLACE_MM} mm`)
}

/** A spot wider than its bore stays as a chamfer that nobody asked for. */
function checkSpot(feature: BoreFeature, own: readonly CutBy[], say: Say): void {
  for (const { bottomMm, tool } of own.filter((cut) => cut.tool.kind === 'spot')) {
    const wide = 2 * -bottomMm * Math.tan(((tool.pointAngleDeg ?? 90) / 360) * Math.PI)
    if (wide > feature.diameterMm.minMm) say(`The spot is ${figure(wide)} mm wide, more than the bore.`)
  }
}

/** No bite deeper than the pecks of the calculation: chips would pack the flutes and break the drill. */
function checkPecks(feature: BoreFeature, own: readonly CutBy[], say: Say): void {
  for (const { tool, pecksMm } of feature.passes) {
    const [first = 0, second = first] = pecksMm
    const deepest = [first, Math.max(second - first, 0)]
    own
      .filter((cut) => cut.tool.number === tool && cut.tool.kind === 'drill')
      .forEach((cut, i) => {
        const most = deepest[Math.min(i, 1)] ?? 0
        if (cut.biteMm > most + 0.001)
          say(
            `${blockName(cut.block)} drills ${figure(cut.biteMm)} mm at once.`,
            `at most ${figure(most)} mm before chips are cleared`,
          )
      })
  }
}

function checkNotch(feature: NotchFeature, own: readonly CutBy[], say: Say): Found | undefined {
  if (own.length === 0) {
    say(`Nothing is milled at X${figure(feature.xMm)}.`)
    return undefined
  }
  const deepest = own.reduce((best, cut) => (reach(cut) > reach(best) ? cut : best))
  const depthMm = reach(deepest)
  const { minMm, maxMm } = feature.depthMm
  if (depthMm < minMm - 1e-9 || depthMm > maxMm + 1e-9)
    say(`The notch is ${figure(depthMm)} mm deep.`, `${figure(minMm)} to ${figure(maxMm)} mm`)
  if (deepest.bottomMm > feature.tipMm + 1e-9)
    say(
      `The cutter stands at Z${figure(deepest.bottomMm)} and does not come out under the leg.`,
      `Z${figure(feature.tipMm)} or lower`,
    )
  return { xMm: deepest.to.x, yMm: 0, diameterMm: 2 * deepest.radiusMm, depthMm }
}

/** How far a cut goes into the leg behind its face y = 0. */
const reach = (cut: CutBy) => Math.max(cut.from.y, cut.to.y) + cut.radiusMm
