import { chain } from '../../body/chain.ts'
import { chainRemedies } from '../../body/chain-remedy.ts'
import type { Chain } from '../../body/tolerance-chain.ts'
import { formatFixed, formatNumber } from '../../display.ts'
import { type Finding, finding, type Requirement, unknown } from '../../finding.ts'
import { partMaterial } from '../../materials/part-materials.ts'
import type { Source } from '../../source.ts'
import { ask } from '../ask.ts'
import type { Design } from '../design.ts'
import type { ChainCase, Lever } from './chain-terms.ts'
import type { Climate } from './climate.ts'

/** Holds a chain against its limit at one temperature, judged as the design says. */
export function chainFinding(
  requirement: Requirement,
  { contributors, levers }: ChainCase,
  climate: Climate,
  design: Design,
): Finding {
  const missing = contributors.find(({ expansionPerK }) => expansionPerK === undefined)
  if (missing !== undefined)
    return unknown(requirement, `The expansion of the material behind "${missing.name}" is not known.`)
  const asked = ask(chain, {
    contributors: [...contributors],
    limits: { minMm: requirement.limit },
    temperatureC: climate.temperatureC,
  })
  if (!asked.ok) return unknown(requirement, asked.because)
  const { statistical, worstCase, shares } = asked.output
  const { judgeChains } = design.requirements
  const judged = judgeChains === 'statistical' ? statistical : worstCase
  const remedy = remedyFor(
    requirement.limit - judged.minMm,
    { contributors, limits: { minMm: requirement.limit }, temperatureC: climate.temperatureC },
    { levers, judgeChains },
  )
  return finding(requirement, {
    predicted: { value: judged.minMm, low: judged.minMm, high: judged.maxMm },
    evidence: { ...asked.evidence, shares, sources: [...chain.sources, ...expansionSources(design)] },
    ...(remedy === undefined ? {} : { remedy }),
  })
}

function expansionSources({ body, barrel, ball, shackle, fits = [] }: Design): Source[] {
  const ofFits = fits.flatMap(({ holeMaterial, shaftMaterial }) => [holeMaterial, shaftMaterial])
  const used = [body.material, barrel.material, ball.material, shackle.steel, ...ofFits].flatMap(
    (name) => partMaterial(name)?.source ?? [],
  )
  return [...new Set(used)].filter((each) => !chain.sources.includes(each))
}

/** What to change so that a chain that falls short by this much holds: a size moved, or the cheapest tolerance held closer. */
function remedyFor(
  missingMm: number,
  chain: Chain,
  { levers, judgeChains }: { levers: readonly Lever[]; judgeChains: Design['requirements']['judgeChains'] },
): string | undefined {
  const { contributors } = chain
  if (missingMm <= 0) return undefined
  const moved = levers.flatMap(({ contributor, phrase }) => {
    const part = contributors.find(({ name }) => name === contributor)
    if (part === undefined) return []
    const stepped = (Math.sign(part.sensitivity) * Math.ceil(Math.abs(missingMm / part.sensitivity) * 100 - 1e-9)) / 100
    return [`${phrase} from ${formatFixed(part.nominalMm, 2)} to ${formatFixed(part.nominalMm + stepped, 2)} mm`]
  })
  const closer = tightening(chain, judgeChains, new Set(levers.map(({ contributor }) => contributor)))
  const parts = [...moved, ...(closer === undefined ? [] : [closer])]
  return parts.length === 0 ? undefined : `${parts.join(', or ')}.`
}

/** Three standard deviations on the one side that has a limit. */
const THREE_SIGMA_SHARE = 0.998_650_101_968_37

/** The cheapest single tolerance that, held closer, brings a chain inside its limit; its process follows it. Of equals a lever is named. */
function tightening(
  chain: Chain,
  judgeChains: Design['requirements']['judgeChains'],
  levers: ReadonlySet<string>,
): string | undefined {
  const tightened = chainRemedies(
    chain,
    judgeChains === 'statistical' ? { by: 'yield', share: THREE_SIGMA_SHARE } : { by: 'worst-case' },
  ).filter(({ change }) => change === 'tighten')
  const [first] = tightened
  const cheapest = tightened.find(({ name, cost }) => levers.has(name) && cost <= (first?.cost ?? 0) + 1e-6) ?? first
  const link = chain.contributors.find(({ name }) => name === cheapest?.name)
  if (cheapest === undefined || link === undefined) return undefined
  const share = (cheapest.plusMm + cheapest.minusMm) / (link.plusMm + link.minusMm)
  const name = cheapest.name.toLowerCase()
  const um = (mm: number) => formatNumber(mm * 1000, 2)
  if (judgeChains === 'statistical' && link.sigmaMm !== undefined)
    return `bring the measured scatter of ${name} down from ${um(link.sigmaMm)} to ${um(link.sigmaMm * share)} µm`
  return cheapest.plusMm === cheapest.minusMm
    ? `hold ${name} to ±${um(cheapest.plusMm)} µm instead of ±${um(link.plusMm)} µm`
    : `hold ${name} to +${um(cheapest.plusMm)}/−${um(cheapest.minusMm)} µm instead of +${um(link.plusMm)}/−${um(link.minusMm)} µm`
}
