import { type Design, read, timetable, timetableRemedies } from '@haspwright/engine'
import { useCallback, useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { draftOfLine, lineInput, tanksOf } from './line-draft.ts'
import { type LineInput, type LineReport, linePicture, type RemedyReport } from './line-picture.ts'
import type { LineStep, Recipe } from './line-recipe.ts'
import { useAsked } from './use-asked.ts'

export const widenModel = fieldModel(timetableRemedies.input.shape.widenS, 'widenS')
const WIDEN_S = 30

/** A line being tried: what is typed, its timetable, and what would shorten its cycle. Both are solved in workers. */
export function useLine(design: Design, recipe: Extract<Recipe, { ok: true }>) {
  const { steps, transfer } = recipe
  const start = useMemo(() => startDraft(steps, transfer), [steps, transfer])
  const [typed, setTyped] = useState<Draft>()
  const draft = typed ?? start
  const input = useMemo(() => lineInput(draft), [draft])
  const reading = useMemo(() => read(timetable.input, input), [input])
  const widen = useMemo(() => {
    const widenS = valueFrom(widenModel, (draft as { widenS?: Draft }).widenS ?? '') // the draft is a group
    return read(timetableRemedies.input.shape.widenS, widenS)
  }, [draft])

  const solved = useAsked<LineReport>(timetable, reading.ok ? reading.value : undefined)
  const remedyInput = useMemo(() => {
    // One search after the other: the timetable is what is waited for.
    if (!reading.ok || !widen.ok || solved.output === undefined || solved.isWorking) return undefined
    const { hoists, ...line } = reading.value
    // Remedies are searched for the line with one carrier; with several there is nothing to compare with.
    return hoists === 1 ? { ...line, ...(widen.value === undefined ? {} : { widenS: widen.value }) } : undefined
  }, [reading, widen, solved.output, solved.isWorking])
  const remedies = useAsked<RemedyReport>(timetableRemedies, remedyInput)

  const line = solved.answered as LineInput | undefined // what was asked last is what was read
  const picture = useMemo(
    () =>
      line === undefined || solved.output === undefined
        ? undefined
        : linePicture(line, solved.output, tanksOf(line, steps)),
    [line, solved.output, steps],
  )

  const issues = reading.ok ? solved.issues : reading.issues
  const shown = useMemo(
    () => (widen.ok ? issues : [...issues, ...widen.issues.map((issue) => ({ ...issue, path: 'widenS' }))]),
    [issues, widen],
  )
  const issuesAt = useIssuesByPath(shown)
  const form: Form = useMemo(
    () => ({
      id: `line-${design.id}`,
      change: (path, value) => setTyped((was) => setAt(was ?? start, path, value)),
      issuesAt,
    }),
    [design.id, start, issuesAt],
  )
  return {
    steps,
    transfer,
    draft,
    form,
    issues: shown,
    line,
    solved,
    remedies,
    picture,
    isTyped: typed !== undefined,
    reset: useCallback(() => setTyped(undefined), []),
    /** Tries a remedy: its tank doubled, or its window widened. */
    tryRemedy: useCallback(
      ({ tank, change }: RemedyReport['remedies'][number]) => {
        const own = line?.tanks[tank]
        if (own === undefined) return
        const [field, value] =
          change === 'second-tank'
            ? ['places', (own.places ?? 1) + 1]
            : ['maxS', (own.maxS ?? 0) + ((widen.ok && widen.value) || 0)]
        setTyped((was) => setAt(was ?? start, ['tanks', tank, String(field)], String(value)))
      },
      [line, widen, start],
    ),
  }
}
export type TriedLine = ReturnType<typeof useLine>

function startDraft(steps: readonly LineStep[], transfer: Extract<Recipe, { ok: true }>['transfer']): Draft {
  const limit =
    transfer === undefined ? undefined : { fromTank: transfer.fromTank, toTank: transfer.toTank, maxS: transfer.maxS }
  return setAt(draftOfLine(steps, limit), ['widenS'], draftOf(widenModel, WIDEN_S))
}
