import { answer, type Calculation, type Issue } from '@haspwright/engine'
import { useMemo, useState } from 'react'
import { type Draft, type DraftGroup, draftOf, setAt, valueFrom } from '../fields/draft.ts'
import { inputModel } from '../fields/field-model.ts'
import { type Form, useIssuesByPath } from '../fields/form-context.ts'

const NO_ISSUES: readonly Issue[] = []

type Output<C> = C extends Calculation<infer _, infer O> ? ReturnType<O['parse']> : never

/** A short calculation with its own form on the page: what is typed, and its answer at once. */
// biome-ignore lint/suspicious/noExplicitAny: the shape of the input is the calculation's own; it checks it
export function useAnswered<C extends Calculation<any, any>>(calculation: C, first: object, id: string) {
  const model = useMemo(() => inputModel(calculation), [calculation])
  const start = useMemo(() => draftOf(model, first), [model, first])
  const [typed, setTyped] = useState<Draft>()
  const draft = typed ?? start
  const input = useMemo(() => valueFrom(model, draft), [model, draft])
  const result = useMemo(() => answer(calculation, input), [calculation, input])
  const issues = result.ok ? NO_ISSUES : result.issues
  const issuesAt = useIssuesByPath(issues)
  const form: Form = useMemo(
    () => ({ id, change: (path, value) => setTyped((was) => setAt(was ?? start, path, value)), issuesAt }),
    [id, start, issuesAt],
  )
  return {
    fields: model.kind === 'group' ? model.fields : [],
    draft: draft as DraftGroup, // the input of a calculation is a group
    form,
    input,
    output: result.ok ? (result.output as Output<C>) : undefined,
    notices: result.ok ? result.notices : [],
    issues,
  }
}
