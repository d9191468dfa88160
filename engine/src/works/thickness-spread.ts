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

/** Thinnest over mean that the current's spread gives, over the part where it is least. */
export type Spread =
  | {
      readonly ok: true
      readonly thinnestToMean: number
      readonly part: 'shackle' | 'body'
      readonly evidence: Evidence
    }
  | { readonly ok: false; readonly because: string }

/** Edges of a body are broken by the file; the broad face, where it is thinnest, hardly feels by how much. */
const BROKEN_EDGE_MM = 0.5
/** Ratios do not feel a tolerance: sizes are taken to a tenth, so that a changed tolerance needs no new solution. */
const toTenthMm = (mm: number) => Math.round(mm * 10) / 10

/** The bath of a metal as the works file describes it. */
export function bathFor({ plating: { baths = [] } }: Pick<Works, 'plating'>, metal: string): PlatingBath | undefined {
  return baths.find((bath) => bath.metal === metal)
}

/** The spread of nickel over the legs of the shackle and over the body, the worse of the two. */
export function nickelSpread({ shackle, body }: Design, works: Pick<Works, 'plating'>): Spread {
  const bath = bathFor(works, 'nickel')
  if (bath === undefined)
    return { ok: false, because: 'The works file does not describe the nickel bath: conductivity and polarization.' }
  const place = { anodeToAnodeMm: bath.anodeToAnodeMm, pitchMm: bath.rackPitchMm }
  const solution = { conductivitySPerM: bath.conductivitySPerM, polarizationOhmCm2: bath.polarizationOhmCm2 }
  const legs = shackleSection(place, {
    barDiameterMm: toTenthMm(shackle.barDiameter.nominalMm),
    insideWidthMm: toTenthMm(shackle.insideWidth.nominalMm),
  })
  const block = bodySection(place, {
    widthMm: toTenthMm(body.widthMm),
    thicknessMm: toTenthMm(body.thicknessMm),
    edgeRadiusMm: BROKEN_EDGE_MM,
  })
  const onShackle = spreadOf('shackle', { ...legs, ...solution })
  const onBody = spreadOf('body', { ...block, ...solution })
  if (!onShackle.ok) return onShackle
  if (!onBody.ok) return onBody
  return onBody.thinnestToMean < onShackle.thinnestToMean ? onBody : onShackle
}

const spreadOf = remembered((part: 'shackle' | 'body', input: DistributionInput): Spread => {
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
      notices,
    },
  }
}, 60)
