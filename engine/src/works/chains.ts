import type { z } from 'zod'
import { chain } from '../body/chain.ts'
import { chainRemedies } from '../body/chain-remedy.ts'
import type { Chain } from '../body/tolerance-chain.ts'
import { formatFixed, formatNumber } from '../display.ts'
import { type Finding, finding, type Requirement, unknown } from '../finding.ts'
import { partMaterial } from '../materials/part-materials.ts'
import type { Source } from '../source.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import { type Dimension, limitsOf } from './dimension.ts'

/**
 * The dimension chains of the trade: along barrel axis → ball → shackle leg, and the plain clearances. Every term carries its
 * tolerance, its measured scatter, its material's expansion and, where the face is plated, the coating.
 */
export type Contributor = z.input<typeof chain.input>['contributors'][number]

export interface ChainCase {
  readonly contributors: readonly Contributor[]
  /** Sizes that may be changed to win what is missing, best first. */
  readonly levers: readonly Lever[]
}

interface Lever {
  readonly contributor: string
  /** `Deepen the barrel recess`, by the sign of the change. */
  readonly phrase: string
}

/** At which temperature a clearance is judged. */
export interface Climate {
  readonly key: 'cold' | 'room' | 'hot'
  readonly temperatureC: number
}

export function climatesOf({ requirements: { coldC, hotC } }: Design): Climate[] {
  return [
    { key: 'cold', temperatureC: coldC },
    { key: 'room', temperatureC: 20 },
    { key: 'hot', temperatureC: hotC },
  ]
}

/** Barrel, ball and leg: how far the ball reaches into the leg, R + d − (C − r). */
function ballReach({ barrel, ball, body, shackle, coating }: Design): Contributor[] {
  return [
    term('Barrel diameter', barrel.diameter, 0.5, barrel.material),
    term('Ball diameter', ball.diameter, 1, ball.material),
    term('Barrel axis to leg axis', body.legAxisToBarrelAxis, -1, body.material),
    term('Shackle bar diameter', shackle.barDiameter, 0.5, shackle.steel),
    coatingTerm('Coating on the shackle', coating.onShackle, 1),
  ]
}

/** e = R + d − (C − r) − f, with the float f = (bore − 2r)/2 of the leg in its bore. */
export function engagementChain(design: Design, bore: NamedDimension = looserBore(design)): ChainCase {
  const doubled = new Set(['Shackle bar diameter', 'Coating on the shackle']) // r stands in the reach and, once more, in the float
  const reach = ballReach(design).map((part) =>
    doubled.has(part.name) ? { ...part, sensitivity: 2 * part.sensitivity } : part,
  )
  return {
    contributors: [...reach, term(...bore, -0.5, design.body.material)],
    levers: [
      {
        contributor: 'Barrel axis to leg axis',
        phrase: 'Bring the shackle bores closer to the barrel: barrel axis to leg axis',
      },
    ],
  }
}

type NamedDimension = readonly [name: string, diameter: Dimension]

/** The bore that one leg stands in. */
export function boreOfLeg({ body }: Design, leg: 'toe' | 'heel'): NamedDimension {
  return leg === 'toe' ? ['Toe bore diameter', body.toeBore.diameter] : ['Heel bore diameter', body.heelBore.diameter]
}

/** The bore in which a notched leg floats most: toe alone, or the wider of the two where both legs are held. */
function looserBore(design: Design): NamedDimension {
  const { shackle } = design
  const [toe, heel] = [boreOfLeg(design, 'toe'), boreOfLeg(design, 'heel')]
  return shackle.notch.legs === 'both' && limitsOf(heel[1]).maxMm > limitsOf(toe[1]).maxMm ? heel : toe
}

/** Locked engagement at nominal sizes, mm. */
export function engagementMm(design: Design): number {
  return engagementChain(design).contributors.reduce(
    (sum, { nominalMm, sensitivity }) => sum + nominalMm * sensitivity,
    0,
  )
}

/** h − (R + d − (C − r)): the notch must take the ball, or the barrel binds. */
export function jamChain(design: Design): ChainCase {
  return {
    contributors: [
      term('Notch depth', design.shackle.notch.depth, 1, design.shackle.steel),
      ...negated(ballReach(design)),
    ],
    levers: [{ contributor: 'Notch depth', phrase: 'Deepen the notch' }],
  }
}

/** p − (R + d − (C − r)): the recess must let the ball sink clear of the leg, or the shackle drags. */
export function releaseChain(design: Design): ChainCase {
  return {
    contributors: [
      term('Barrel recess depth', design.barrel.recessDepth, 1, design.barrel.material),
      ...negated(ballReach(design)),
    ],
    levers: [{ contributor: 'Barrel recess depth', phrase: 'Deepen the barrel recess' }],
  }
}

/** The tighter of the two shackle bores. */
function tighterBore(design: Design): NamedDimension {
  const [toe, heel] = [boreOfLeg(design, 'toe'), boreOfLeg(design, 'heel')]
  return limitsOf(toe[1]).minMm < limitsOf(heel[1]).minMm ? toe : heel
}

/** Bore − leg, both over their coating, in the tighter of the two bores unless one is named. */
export function legClearanceChain(design: Design, [name, diameter]: NamedDimension = tighterBore(design)): ChainCase {
  const { body, shackle, coating } = design
  return {
    contributors: [
      term(name, diameter, 1, body.material),
      term('Shackle bar diameter', shackle.barDiameter, -1, shackle.steel),
      coatingTerm('Coating on the shackle', coating.onShackle, -2),
    ],
    levers: [{ contributor: name, phrase: `Open the ${name.toLowerCase()}` }],
  }
}

export function barrelClearanceChain({ body, barrel }: Design): ChainCase {
  return {
    contributors: [
      term('Barrel bore diameter', body.barrelBore.diameter, 1, body.material),
      term('Barrel diameter', barrel.diameter, -1, barrel.material),
    ],
    levers: [{ contributor: 'Barrel bore diameter', phrase: 'Open the barrel bore' }],
  }
}

/** Plain fits that the design names beside those of the detent: disc in barrel, sidebar in its slot. */
export function fitChains({ fits = [] }: Design): { readonly fit: PlainFit; readonly chain: ChainCase }[] {
  return fits.map((fit) => ({
    fit,
    chain: {
      contributors: [
        term(`${fit.name}, hole`, fit.hole, 1, fit.holeMaterial),
        term(`${fit.name}, shaft`, fit.shaft, -1, fit.shaftMaterial),
      ],
      levers: [{ contributor: `${fit.name}, hole`, phrase: `Open the hole of the ${fit.name.toLowerCase()}` }],
    },
  }))
}
type PlainFit = NonNullable<Design['fits']>[number]

/** The three walls of a drilled body. */
export function wallChains({
  body,
}: Design): { readonly key: string; readonly title: string; readonly chain: ChainCase }[] {
  const steel = body.material
  const axis = term('Barrel axis to leg axis', body.legAxisToBarrelAxis, 1, steel)
  const heel = term('Heel bore diameter', body.heelBore.diameter, -0.5, steel)
  const barrel = term('Barrel bore diameter', body.barrelBore.diameter, -0.5, steel)
  const half = (name: string, nominalMm: number) => term(name, { nominalMm, plusMm: 0, minusMm: 0 }, 0.5, steel)
  return [
    {
      key: 'between',
      title: 'Wall between barrel and shackle bore',
      chain: {
        contributors: [axis, heel, barrel],
        levers: [{ contributor: axis.name, phrase: 'Move the shackle bores outward: barrel axis to leg axis' }],
      },
    },
    {
      key: 'side',
      title: 'Wall from shackle bore to the side',
      chain: {
        contributors: [half('Body width', body.widthMm), { ...axis, sensitivity: -1 }, heel],
        levers: [{ contributor: axis.name, phrase: 'Move the shackle bores inward: barrel axis to leg axis' }],
      },
    },
    {
      key: 'face',
      title: 'Wall from barrel bore to the face',
      chain: {
        contributors: [half('Body thickness', body.thicknessMm), barrel],
        levers: [{ contributor: 'Body thickness', phrase: 'Take a thicker bar: body thickness' }],
      },
    },
  ]
}

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

function expansionSources({ body, barrel, ball, shackle }: Design): Source[] {
  const used = [body.material, barrel.material, ball.material, shackle.steel].flatMap(
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

function term(
  name: string,
  { nominalMm, plusMm, minusMm, sigmaMm, shiftMm }: Dimension,
  sensitivity: number,
  material: string,
): Contributor {
  const expansion = partMaterial(material)
  return {
    name,
    nominalMm,
    plusMm,
    minusMm,
    sensitivity,
    ...(sigmaMm === undefined ? {} : { sigmaMm }),
    ...(shiftMm === undefined ? {} : { shiftMm }),
    ...(expansion === undefined ? {} : { expansionPerK: expansion.expansionPerK }),
  }
}

/** A coating of a few micrometres: its own expansion is lost beside its spread. */
function coatingTerm(
  name: string,
  { minUm, maxUm }: { minUm: number; maxUm: number },
  sensitivity: number,
): Contributor {
  const half = (maxUm - minUm) / 2000 // µm → mm
  return { name, nominalMm: (minUm + maxUm) / 2000, plusMm: half, minusMm: half, sensitivity, expansionPerK: 0 }
}

const negated = (parts: readonly Contributor[]) => parts.map((part) => ({ ...part, sensitivity: -part.sensitivity }))
