import type { z } from 'zod'
import { chain } from '../body/chain.ts'
import { formatFixed, formatNumber } from '../display.ts'
import { type Finding, finding, type Requirement, unknown } from '../finding.ts'
import { partMaterial } from '../materials/part-materials.ts'
import type { Source } from '../source.ts'
import { ask } from './ask.ts'
import type { Design } from './design.ts'
import type { Dimension } from './dimension.ts'

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
export function engagementChain(design: Design): ChainCase {
  const doubled = new Set(['Shackle bar diameter', 'Coating on the shackle']) // r stands in the reach and, once more, in the float
  const reach = ballReach(design).map((part) =>
    doubled.has(part.name) ? { ...part, sensitivity: 2 * part.sensitivity } : part,
  )
  return {
    contributors: [...reach, term('Toe bore diameter', design.body.toeBore.diameter, -0.5, design.body.material)],
    levers: [
      {
        contributor: 'Barrel axis to leg axis',
        phrase: 'Bring the shackle bores closer to the barrel: barrel axis to leg axis',
      },
    ],
  }
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

/** Bore − leg, both over their coating. */
export function legClearanceChain({ body, shackle, coating }: Design): ChainCase {
  return {
    contributors: [
      term('Heel bore diameter', body.heelBore.diameter, 1, body.material),
      term('Shackle bar diameter', shackle.barDiameter, -1, shackle.steel),
      coatingTerm('Coating on the shackle', coating.onShackle, -2),
    ],
    levers: [{ contributor: 'Heel bore diameter', phrase: 'Open the heel bore' }],
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
  const value = design.requirements.judgeChains === 'statistical' ? statistical.minMm : worstCase.minMm
  const remedy = remedyFor(requirement.limit - value, contributors, levers)
  return finding(requirement, {
    predicted: { value, low: worstCase.minMm, high: statistical.maxMm },
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

function remedyFor(
  missingMm: number,
  contributors: readonly Contributor[],
  levers: readonly Lever[],
): string | undefined {
  const parts = levers.flatMap(({ contributor, phrase }) => {
    const part = contributors.find(({ name }) => name === contributor)
    if (part === undefined) return []
    const stepped = (Math.sign(part.sensitivity) * Math.ceil(Math.abs(missingMm / part.sensitivity) * 100 - 1e-9)) / 100
    return [`${phrase} from ${formatFixed(part.nominalMm, 2)} to ${formatFixed(part.nominalMm + stepped, 2)} mm`]
  })
  const [widest] = [...contributors].sort((a, b) => spreadOf(b) - spreadOf(a))
  if (widest !== undefined)
    parts.push(
      `hold ${widest.name.toLowerCase()} closer than ±${formatNumber(((widest.plusMm + widest.minusMm) / 2) * 1000, 2)} µm`,
    )
  return missingMm <= 0 || parts.length === 0 ? undefined : `${parts.join(', or ')}.`
}

const spreadOf = ({ plusMm, minusMm, sensitivity }: Contributor) => (plusMm + minusMm) * Math.abs(sensitivity)

function term(
  name: string,
  { nominalMm, plusMm, minusMm, sigmaMm }: Dimension,
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
