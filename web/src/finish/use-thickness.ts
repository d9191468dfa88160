import {
  answer,
  currentDistribution,
  type Design,
  deposit,
  type Finding,
  meanThicknessFor,
  read,
} from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { coatOutlines } from './thickness-geometry.ts'
import {
  type Aid,
  type Distribution,
  type DistributionInput,
  distributionInput,
  type PlatedPart,
  RACK_ASSUMED,
} from './thickness-section.ts'
import { useAsked } from './use-asked.ts'

const distributionModel = fieldModel(currentDistribution.input)
const RACK_FIELDS = ['tankWidthMm', 'tankHeightMm', 'conductivitySPerM', 'polarizationOhmCm2'] as const
/** The fields of rack and bath, as the calculation declares them. */
export const rackFields = (distributionModel.kind === 'group' ? distributionModel.fields : []).filter(({ name }) =>
  RACK_FIELDS.some((field) => field === name),
)

/** The spread of the nickel over a part in its rack, solved in a worker as the figures are changed. */
export function useThickness(design: Design, findings: readonly Finding[]) {
  const layer = design.coating.layers.find(({ metal }) => metal === 'nickel')
  const [part, setPart] = useState<PlatedPart>('shackle')
  const [aid, setAid] = useState<Aid>('none')
  const [draft, setDraft] = useState<Draft>(() => draftOf(distributionModel, RACK_ASSUMED))
  const rack = useMemo(
    () =>
      Object.fromEntries(
        rackFields.map((field) => [field.name, valueFrom(field, (draft as Record<string, Draft>)[field.name])]), // the draft is a group
      ),
    [draft],
  )
  const input = useMemo(() => distributionInput(design, part, aid, rack), [design, part, aid, rack])
  const reading = useMemo(() => read(currentDistribution.input, input), [input])
  const asked = useAsked<Distribution>(currentDistribution, reading.ok ? reading.value : undefined)
  const issues = reading.ok ? asked.issues : reading.issues
  const issuesAt = useIssuesByPath(issues)
  const form: Form = useMemo(
    () => ({ id: 'rack', change: (path, value) => setDraft((was) => setAt(was, path, value)), issuesAt }),
    [issuesAt],
  )
  const leastUm = limitOf(findings) ?? layer?.minUm
  return {
    part,
    setPart,
    aid,
    setAid,
    draft,
    form,
    issues,
    asked,
    input: asked.answered as DistributionInput | undefined, // what was asked is what was read
    meanUm: layer?.meanUm,
    leastUm,
    coats: useMemo(
      () => (asked.output === undefined || layer === undefined ? [] : coatOutlines(asked.output, layer.meanUm)),
      [asked.output, layer],
    ),
    longer:
      layer === undefined || leastUm === undefined || asked.output === undefined
        ? undefined
        : longerTime(layer, leastUm, asked.output.thinnestToMean),
  }
}
export type Thickness = ReturnType<typeof useThickness>

/** The least that the plan asks for at the thinnest spot. */
const limitOf = (findings: readonly Finding[]) =>
  findings.find(({ unit, sense, limit }) => unit === 'µm' && sense === 'at-least' && limit !== null)?.limit ?? undefined

/** Mean and time with which the thinnest spot just has what is asked. */
function longerTime(
  { metal, currentDensityAPerDm2, efficiencyPercent, meanUm }: Design['coating']['layers'][number],
  leastUm: number,
  thinnestToMean: number,
) {
  const neededUm = meanThicknessFor({ leastUm, thinnestToMean })
  if (neededUm === undefined) return undefined
  const minutesFor = (thicknessUm: number) => {
    const bath = answer(deposit, { metal, areaDm2: 1, currentDensityAPerDm2, efficiencyPercent, thicknessUm })
    return bath.ok ? bath.output.minutes : undefined
  }
  return { neededUm, neededMinutes: minutesFor(neededUm), minutes: minutesFor(meanUm) }
}
