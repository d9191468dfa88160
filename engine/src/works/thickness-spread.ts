import type { Evidence } from '../finding.ts'
import {
  currentDistribution,
  type DistributionInput,
  distributionAtOnce,
} from '../finish/distribution/current-distribution.ts'
import { bodySection, shackleSection } from '../finish/distribution/ready-outlines.ts'
import { Refusal } from '../issue.ts'
import type { Design } from './design.ts'
import { remembered } from './remember.ts'
import type { PlatingBath, Works } from './resources.ts'

export const PLATED_PARTS = ['shackle', 'body'] as const
export type PlatedPart = (typeof PLATED_PARTS)[number]

/** Thinnest over mean that the current's spread gives, over the part where it is least. */
export type Spread =
  | {
      readonly ok: true
      readonly thinnestToMean: number
      readonly part: PlatedPart
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

/** Edges of a body are broken by the file; the broad face, where it is thinnest, hardly feels by how much. */
const BROKEN_EDGE_MM = 0.5
/** What the cut through a rack takes for granted, said wherever its figures stand. */
export const SPREAD_ASSUMES = `Edges of the body are taken as broken to ${BROKEN_EDGE_MM} mm, sizes to a tenth of a millimetre.`
/** Ratios do not feel a tolerance: sizes are taken to a tenth, so that a changed tolerance needs no new solution. */
const toTenthMm = (mm: number) => Math.round(mm * 10) / 10

/** The bath of a metal as the works file describes it. */
export function bathFor({ plating: { baths = [] } }: Pick<Works, 'plating'>, metal: string): PlatingBath | undefined {
  return baths.find((bath) => bath.metal === metal)
}

type RackBath = Pick<PlatingBath, 'anodeToAnodeMm' | 'rackPitchMm' | 'conductivitySPerM' | 'polarizationOhmCm2'>

/** The cut through one place of a rack, a part of the design in its middle. */
export function sectionOnRack({ shackle, body }: Design, part: PlatedPart, bath: RackBath): DistributionInput {
  const place = { anodeToAnodeMm: bath.anodeToAnodeMm, pitchMm: bath.rackPitchMm }
  const section =
    part === 'shackle'
      ? shackleSection(place, {
          barDiameterMm: toTenthMm(shackle.barDiameter.nominalMm),
          insideWidthMm: toTenthMm(shackle.insideWidth.nominalMm),
        })
      : bodySection(place, {
          widthMm: toTenthMm(body.widthMm),
          thicknessMm: toTenthMm(body.thicknessMm),
          edgeRadiusMm: BROKEN_EDGE_MM,
        })
  return { ...section, conductivitySPerM: bath.conductivitySPerM, polarizationOhmCm2: bath.polarizationOhmCm2 }
}

/** The spread of nickel over the legs of the shackle and over the body, the worse of the two. */
export function nickelSpread(design: Design, works: Pick<Works, 'plating'>): Spread {
  const bath = bathFor(works, 'nickel')
  if (bath === undefined)
    return { ok: false, because: 'The works file does not describe the nickel bath: conductivity and polarization.' }
  const onShackle = spreadOf('shackle', sectionOnRack(design, 'shackle', bath))
  const onBody = spreadOf('body', sectionOnRack(design, 'body', bath))
  if (!onShackle.ok) return onShackle
  if (!onBody.ok) return onBody
  return onBody.thinnestToMean < onShackle.thinnestToMean ? onBody : onShackle
}

const spreadOf = remembered((part: PlatedPart, input: DistributionInput): Spread => {
  const notices: string[] = []
  const answer = distributionAtOnce(input, (text) => notices.push(text))
  if (answer instanceof Refusal) return { ok: false, because: answer.issues.map(({ message }) => message).join(' ') }
  const { thinnestToMean, wagnerNumber, refinementChange } = answer
  return {
    ok: true,
    thinnestToMean,
    part,
    evidence: {
      calculation: currentDistribution.id,
      input: { ...input },
      working: `A cut through the ${part} on its place of the rack: thinnest over mean ${thinnestToMean.toFixed(3)} at a Wagner number of ${wagnerNumber.toFixed(2)}; halving the panels moved it by ${refinementChange.toFixed(3)}. ${currentDistribution.working as string}`,
      sources: currentDistribution.sources,
      notices: [...notices, SPREAD_ASSUMES],
    },
  }
}, 60)
