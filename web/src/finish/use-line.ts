import {
  type Design,
  type LineQuestion,
  lineQuestion,
  read,
  timetable,
  timetableRemedies,
  type Works,
} from '@haspwright/engine'
import { type LineInput, type LineReport, linePicture } from '@haspwright/papers/drawing'
import { useCallback, useMemo, useState } from 'react'
import { type Draft, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { fieldModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'
import { ASSUMED_LINE } from './assumed-line.ts'
import { draftOfLine, lineInput } from './line-draft.ts'
import { useAsked } from './use-asked.ts'

export const widenModel = fieldModel(timetableRemedies.input.shape.widenS, 'widenS')
const WIDEN_S = 30
export type RemedyReport = ReturnType<typeof timetableRemedies.output.parse>

/** What the timetable of a plan's line is asked; of an assumed line where the works states none. */
export function lineOfPlan(design: Design, { plating: { line } }: Pick<Works, 'plating'>) {
  return { isAssumed: line === undefined, question: lineQuestion(design, line ?? ASSUMED_LINE) }
}
type Asked = Extract<LineQuestion, { ok: true }>

/**
 * A line being tried: what is typed, its timetable, and what would shorten its cycle. Both are solved in workers. As long as nothing is
 * typed the timetable is asked just what the plan asked it.
 */
export function useLine(design: Design, question: Asked) {
  const start = useMemo(() => startDraft(question), [question])
  const [typed, setTyped] = useState<Draft>()
  const draft = typed ?? start
  const input = useMemo(() => (typed === undefined ? question.input : lineInput(typed)), [typed, question])
  const reading = useMemo(() => read(timetable.input, input), [input])
  const widen = useMemo(() => {
    const widenS = valueFrom(widenModel, (draft as { widenS?: Draft }).widenS ?? '') // the draft is a group
    return read(timetableRemedies.input.shape.widenS, widenS)
  }, [draft])

  const solved = useAsked<LineReport>(timetable, reading.ok ? reading.value : undefined)
  const remedyInput = useMemo(() => {
    // One search after the other: the timetable is what is waited for.
    if (!reading.ok || !widen.ok || solved.output === undefined || solved.isWorking) return undefined
    return { ...reading.value, ...(widen.value === undefined ? {} : { widenS: widen.value }) }
  }, [reading, widen, solved.output, solved.isWorking])
  const remedies = useAsked<RemedyReport>(timetableRemedies, remedyInput)

  const line = solved.answered as LineInput | undefined // what was asked last is what was read
  const picture = useMemo(
    () =>
      line === undefined || solved.output === undefined
        ? undefined
        : linePicture(line, solved.output, question.stations),
    [line, solved.output, question],
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
    stations: question.stations,
    /** What the design asks of the way from nickel to chromium; the timetable is asked no less than the moves take. */
    transferAsked: design.coating.nickelToChromiumS,
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

const startDraft = ({ input }: Asked): Draft => setAt(draftOfLine(input), ['widenS'], draftOf(widenModel, WIDEN_S))
