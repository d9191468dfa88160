import { answer, type Report } from '../calculation.ts'
import { Refusal, refuse } from '../issue.ts'
import type { Composition, Element } from '../materials/composition.ts'
import { type SteelName, steels } from '../materials/steels.ts'
import { martensiteHardnessByA255 } from './as-quenched.ts'
import { equivalentPlaces, FIRST_DISTANCE_MM, LAST_DISTANCE_MM } from './equivalent-cooling.ts'
import { tooThick } from './equivalent-jominy.ts'
import { DIAMETER_MM, hardenability, idealDiameterByA255, SOFT } from './hardenability.ts'

/** Hardness along the end-quench bar; the first point is that of all martensite. */
export interface EndQuenchCurve {
  readonly idealDiameterMm: number
  readonly martensiteHrc: number
  hrcAt(distanceMm: number): number
}

/** The end-quench curve of an analysis (ASTM A255), linear between its distances; or why there is none. */
export function endQuenchCurve(composition: Composition, report?: Report): EndQuenchCurve | Refusal {
  const result = answer(hardenability, { composition, grainSize: 7 })
  if (!result.ok) return new Refusal(result.issues)
  // The soft far end of the bar says nothing of the section, which speaks for itself.
  for (const notice of result.notices) if (notice !== SOFT) report?.notice(notice)
  const martensiteHrc = martensiteHardnessByA255(composition.C)
  const points = [{ distanceMm: FIRST_DISTANCE_MM, hrc: martensiteHrc }, ...result.output.jominy]
  return {
    idealDiameterMm: result.output.idealDiameterMm,
    martensiteHrc,
    hrcAt(distanceMm) {
      const above = points.findIndex((point) => point.distanceMm >= distanceMm)
      const next = points[above] ?? points[points.length - 1]
      const last = points[above - 1]
      if (next === undefined) return martensiteHrc
      if (last === undefined) return next.hrc
      const share = (distanceMm - last.distanceMm) / (next.distanceMm - last.distanceMm)
      return last.hrc + share * (next.hrc - last.hrc)
    },
  }
}

/** A place in a quenched round. */
export interface SectionPlace {
  readonly radiusShare: number
  readonly distanceMm: number
  readonly hrc: number
  /** From the leanest and the richest analysis the limits allow; left out where no curve can be given for it. */
  readonly lowHrc?: number
  readonly highHrc?: number
  /** Hardness if all of it were martensite: of the analysis, and of the leanest. */
  readonly martensiteHrc: number
  readonly lowMartensiteHrc?: number
}

export interface QuenchedSection {
  readonly composition: Composition
  readonly idealDiameterMm: number
  readonly lagRatio?: number
  readonly places: readonly SectionPlace[]
}

/** What a quenched round is asked for. */
export interface SectionAsked {
  readonly steel: SteelName
  /** The heat's own analysis; the middle of the steel's limits unless given. */
  readonly composition: Composition | undefined
  readonly diameterMm: number
  readonly severityPerInch: number
  readonly radiusShares: readonly number[]
}

/** Hardness over the section of a quenched round, with the band of the analyses it may have. */
export function quenchedSection(asked: SectionAsked, report: Report): QuenchedSection | Refusal {
  const { steel, diameterMm, severityPerInch, radiusShares } = asked
  if (steels[steel].boron)
    return refuse({
      path: 'steel',
      code: 'out-of-reach',
      message: `${steel} hardens by its boron, and no published factor for boron is at hand: measure its end-quench curve.`,
      value: steel,
      allowed: 'a steel without boron',
    })
  const composition = asked.composition ?? steels[steel].midAnalysis
  const curve = endQuenchCurve(composition, report)
  if (curve instanceof Refusal) return asked.composition === undefined ? outsideMethod(steel, curve) : curve
  const { low, high } = bandOf(asked, composition, report)
  const equivalents = equivalentPlaces(severityPerInch, diameterMm, radiusShares)
  const places: SectionPlace[] = []
  for (const { radiusShare, distanceMm } of equivalents) {
    if (distanceMm === undefined || distanceMm > LAST_DISTANCE_MM) return tooThick(diameterMm)
    const hrc = curve.hrcAt(distanceMm)
    places.push({
      radiusShare,
      distanceMm,
      hrc,
      martensiteHrc: curve.martensiteHrc,
      ...(low === undefined
        ? {}
        : { lowHrc: Math.min(hrc, low.hrcAt(distanceMm)), lowMartensiteHrc: low.martensiteHrc }),
      ...(high === undefined ? {} : { highHrc: Math.max(hrc, high(distanceMm)) }),
    })
  }
  const [surface, centre] = equivalentPlaces(severityPerInch, diameterMm, [1, 0])
  const lag = surface !== undefined && centre !== undefined && surface.halfTimeMm2 > 0
  return {
    composition,
    idealDiameterMm: curve.idealDiameterMm,
    ...(lag ? { lagRatio: centre.halfTimeMm2 / surface.halfTimeMm2 } : {}),
    places,
  }
}

/** A steel whose usual analysis the method refuses: the fault lies with the choice of steel, not with a field of an analysis. */
function outsideMethod(steel: SteelName, { issues }: Refusal): Refusal {
  return refuse({
    path: 'steel',
    code: 'out-of-reach',
    message: `The calculated end-quench curve is not meant for ${steel}. ${issues[0]?.message ?? ''}`.trim(),
    value: steel,
    allowed: issues[0]?.allowed ?? 'a low-alloy steel',
  })
}

/** Curves of the leanest and the richest analysis: of the steel's limits, or of the heat within its product deviations. */
function bandOf({ steel, composition: given }: SectionAsked, composition: Composition, report: Report) {
  const deviations = steels[steel].productDeviations
  if (given !== undefined && deviations === undefined) {
    report.notice(`No product deviations of ${steel} were read: the heat's own analysis is taken without a band.`)
    return {}
  }
  const corner = (end: 0 | 1): Composition => {
    const moved: Record<string, number> = { ...(given === undefined ? {} : definedOf(composition)) }
    if (given === undefined)
      for (const [element, limits] of Object.entries(steels[steel].limits)) moved[element] = limits[end]
    else
      for (const [element, by] of Object.entries(deviations?.values ?? {}) as [Element, readonly [number, number]][])
        moved[element] = Math.max(0, (composition[element] ?? 0) + (end === 0 ? -by[0] : by[1]))
    return { ...moved, C: Math.max(0.1, moved.C ?? composition.C) }
  }
  const [leanest, richest] = [corner(0), corner(1)]
  const low = endQuenchCurve(leanest)
  const high = endQuenchCurve(richest)
  if (low instanceof Refusal)
    report.notice('The leanest analysis hardens less deeply than the method describes: no lower limit is given.')
  if (!(high instanceof Refusal)) return { ...(low instanceof Refusal ? {} : { low }), high: high.hrcAt }
  // Deeper hardening than the method reaches: harder than all martensite it cannot be.
  const bound = idealDiameterByA255(richest) > DIAMETER_MM.max ? martensiteHardnessByA255(richest.C) : undefined
  if (bound !== undefined)
    report.notice(
      'The richest analysis hardens deeper than the method describes: its upper limit is that of all martensite.',
    )
  return { ...(low instanceof Refusal ? {} : { low }), ...(bound === undefined ? {} : { high: () => bound }) }
}

function definedOf(composition: Composition): Record<string, number> {
  return Object.fromEntries(Object.entries(composition).filter(([, value]) => value !== undefined)) as Record<
    string,
    number
  >
}
