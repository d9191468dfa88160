import {
  analysisIssues,
  type BarHeat,
  checkAnalysis,
  type DesignPlan,
  type Issue,
  read,
  type SteelName,
} from '@haspwright/engine'
import { draftOf, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import type { OwnAnalysis } from './heat-inputs.ts'

/** The form of an analysis, made from the calculation that checks one; the steel is the design's. */
const certificate = checkAnalysis.input.omit({ steel: true })
export const certificateModel = fieldModel(certificate)

/** An analysis with nothing in it but its kind. */
export const emptyCertificate = draftOf(certificateModel, { kind: 'heat', analysis: {} })

/** What a typed analysis amounts to. */
export interface ReadAnalysis {
  /** Nothing was typed yet. */
  readonly empty: boolean
  /** Everything wrong with it: fields that cannot be read, elements outside the steel's limits or not stated. */
  readonly issues: readonly Issue[]
  /** Usable for the plots; absent while a field cannot be read or an element is missing that the steel must have. */
  readonly own?: OwnAnalysis
  /** Stated elements lie outside the limits: the plots follow the bar, but it is not this steel. */
  readonly outside: boolean
}

/** Reads a typed analysis and holds it against the limits of a steel. */
export function readAnalysis(steel: SteelName, draft: Parameters<typeof valueFrom>[1]): ReadAnalysis {
  const typed = valueFrom(certificateModel, draft)
  if (isEmpty(typed)) return { empty: true, issues: [], outside: false }
  const reading = read(certificate, typed)
  if (!reading.ok) return { empty: false, issues: reading.issues, outside: false }
  const { kind, analysis } = reading.value
  const issues = analysisIssues({ steel, analysis, kind }, 'analysis')
  const incomplete = issues.some(({ code }) => code === 'missing')
  return {
    empty: false,
    issues,
    outside: issues.some(({ code }) => code === 'out-of-range'),
    ...(incomplete ? {} : { own: { kind, analysis } }),
  }
}

function isEmpty(typed: unknown): boolean {
  const analysis = (typed as { analysis?: Record<string, unknown> } | undefined)?.analysis ?? {}
  return Object.keys(analysis).length === 0
}

/** How a typed analysis is called where a heat has a number. */
const TYPED_HEAT = 'typed here'

/** The analyses of an address as heats of steel, by design; what cannot be used yet is left out, and its fields say why. */
export function ownHeats(
  analyses: Readonly<Record<string, unknown>> | undefined,
  designs: readonly DesignPlan[],
): ReadonlyMap<string, BarHeat> {
  const heats = new Map<string, BarHeat>()
  for (const { design } of designs) {
    const stored = analyses?.[design.id]
    if (stored === undefined) continue
    const { own } = readAnalysis(design.shackle.steel, draftOf(certificateModel, stored))
    if (own !== undefined) heats.set(design.id, { number: TYPED_HEAT, form: design.shackle.barForm, ...own })
  }
  return heats
}
