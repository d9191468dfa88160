import {
  answer,
  bathFor,
  currentDistribution,
  type Design,
  deposit,
  type Finding,
  meanThicknessFor,
  type PlatedPart,
  read,
  sectionOnRack,
  type Works,
} from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { ASSUMED_BATH } from './assumed-line.ts'
import { coatOutlines } from './thickness-geometry.ts'
import {
  type Aid,
  type Distribution,
  type DistributionInput,
  distributionInput,
  RACK_FIELDS,
} from './thickness-section.ts'
import { useAsked } from './use-asked.ts'

const distributionModel = fieldModel(currentDistribution.input)
/** The fields of rack and bath, as the calculation declares them. */
export const rackFields = (distributionModel.kind === 'group' ? distributionModel.fields : []).filter(({ name }) =>
  RACK_FIELDS.some((field) => field === name),
)

/** The spread of the nickel over a part in its rack, solved in a worker as the figures are changed. */
export function useThickness(design: Design, works: Works, finding: Finding | undefined) {
  const layer = design.coating.layers.find(({ metal }) => metal === 'nickel')
  const stated = bathFor(works, 'nickel')
  const [part, setPart] = useState<PlatedPart>('body')
  const [aid, setAid] = useState<Aid>('none')
  const [draft, setDraft] = useState<Draft>(() =>
    draftOf(distributionModel, sectionOnRack(design, 'body', stated ?? ASSUMED_BATH)),
  )
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
  const leastUm = finding?.limit ?? layer?.minUm
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
    bathFrom: stated?.source,
    /** What the plan holds at the thinnest spot, where it knows. */
    plannedUm: finding?.predicted?.value,
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
